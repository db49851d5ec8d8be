"""The example job: an invented pottery, one floor indoors, one outdoors; its photos are rendered, with known truth."""
