"""Sizes as a drawing writes them: limits, their notation, and the standards of classes."""
