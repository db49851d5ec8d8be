"""The command line: one thin file a command. It reads options, asks `whole_job`, and prints records."""
