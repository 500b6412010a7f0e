"""The shop sheet, `sheet.pdf`: what is carried to the saw, and the record of the set-up, to be printed at full size."""
