"""Files and folders of the user's: replaced whole or not at all, and nothing lost that we did not write."""
