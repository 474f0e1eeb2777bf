"""When a value has a meaning: in every state, as made (20 degC, at rest), or while assembling."""

EVERY, AS_MADE, ASSEMBLY = "every state", "as_made", "assembly"
RESERVED = (AS_MADE, ASSEMBLY)
