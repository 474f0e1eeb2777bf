"""What can be bought or is owned: rings."""
