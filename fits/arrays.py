"""Names for the arrays of the core; numpy itself is imported where it computes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Mask = NDArray[np.bool_]
    Index = NDArray[np.intp]
    Whole = NDArray[np.integer[Any]]
else:
    Array = Mask = Index = Whole = Any


def distinct(values: Array) -> Array:
    """The different numbers of an array, rising, as one axis.

    ``numpy.unique`` loads ``numpy.ma``, which costs a tenth of a small answer.

    >>> import numpy as np
    >>> distinct(np.array([3.0, 1.0, 3.0])).tolist()
    [1.0, 3.0]
    """
    import numpy as np

    rising = np.sort(values, axis=None)
    first = np.ones(min(rising.size, 1), dtype=bool)
    return np.asarray(rising[np.concatenate((first, rising[1:] != rising[:-1]))])
