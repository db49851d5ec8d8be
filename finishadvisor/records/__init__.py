"""Frozen results, one file each: what the layers hand to one another and what the JSON contracts print."""
