"""Many profiles and a rack of blades: a folder read, screened, fitted and kept row by row; and what lies nearest."""
