"""Files in and out: part files, tables of joints, and the one writer."""
