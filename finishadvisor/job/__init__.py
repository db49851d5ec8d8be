"""The job document and the job folder on disk. Nothing is computed here."""
