"""Kinds of features; each folder declares one."""
