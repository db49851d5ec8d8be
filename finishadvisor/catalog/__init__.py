"""Data of the trade: facts, finishes, materials, work items, rules, cautions and limits, each row with its source."""
