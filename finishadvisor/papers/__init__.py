"""Papers and pictures: every result rendered for a client, a supplier or the crew. Nothing is worked out here."""
