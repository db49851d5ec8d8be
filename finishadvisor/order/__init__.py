"""What to buy for the works of a job: needs with their spread, packs, batches, and what it costs."""
