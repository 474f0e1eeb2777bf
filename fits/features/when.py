"""When a value has a meaning: in every state, as made (20 degC, at rest), or while assembling."""

EVERY, AS_MADE, ASSEMBLY = "every state", "as_made", "assembly"
RESERVED = (AS_MADE, ASSEMBLY)


def place(state: str) -> str:
    """A state's name in words.

    >>> place("as_made"), place("working")
    ('as made', 'working')
    """
    return "as made" if state == AS_MADE else state


def at_level(value: str, words: str) -> str:
    """The name of a value at one level of the dimension that tells it apart.

    >>> at_level("contact_pressure", "layers 1-2")
    'contact_pressure.layers_1-2'
    """
    return f"{value}.{words.replace(' ', '_')}"
