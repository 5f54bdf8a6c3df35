"""The command line: one file a command, plain text by default, the same as JSON with `--json`."""
