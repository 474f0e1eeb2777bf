"""Metals and friction by temperature, each number with its source."""
