"""Pure equations of solids on arrays: no feature, no text."""
