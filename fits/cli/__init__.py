"""The command line: parse, ask one question, print one answer."""
