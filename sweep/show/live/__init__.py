"""The live page and `removal.html`: one page, served or sent."""
