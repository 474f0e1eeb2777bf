"""Writers: the same rows to the screen, JSON and CSV."""
