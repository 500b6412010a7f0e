"""The report in numbers: what `result.json`, `passes.csv` and `--json` hold, with the unit in each name."""
