"""The inverse of the conductance matrix of a small network, and what further branches make of it."""

from typing import Self

import numpy as np

from ..dataclass import dataclass
from .network_topology import FloatArray, IntArray

_ROUNDED = 1e-3
"""Share of a further branch's resistance that may be lost in rounding, for refining to get it back in a few passes [-]."""

_ABREAST = 8
"""Columns at least in a product, so that none of them hangs on how many there are: alone it would be summed in another order."""

_EPSILON = float(np.finfo(np.float64).eps)


@dataclass(frozen=True, slots=True)
class Inverse:
    """The inverse of the conductance matrix of a small network, in the place of its factors.

    Attributes:
        ohms: what each row has per ampere put into each [ohm].
    """

    ohms: FloatArray

    def inverse(self) -> Self:
        """Itself."""
        return self

    def solve(self, injected: FloatArray) -> FloatArray:
        """Potentials [V] of the rows, one column per column of `injected` [A]."""
        width = injected.shape[1]
        if width >= _ABREAST:
            return self.ohms @ injected
        abreast = np.zeros((len(injected), _ABREAST))
        abreast[:, :width] = injected
        return (self.ohms @ abreast)[:, :width]

    def solve_one(self, injected: FloatArray) -> FloatArray:
        """Potentials [V] of the rows for one column of `injected` [A]."""
        return self.solve(injected[:, np.newaxis])[:, 0]

    def with_more(self, p: IntArray, q: IntArray, conductance: FloatArray) -> "Inverse | None":
        """The inverse with further branches between rows `p` and `q`, of a `conductance` [S] above 0.

        Woodbury, Princeton Stat. Res. Group Memo. 42 (1950). ``None`` where too few digits would be left for a solution to be
        refined with it.
        """
        rows = len(self.ohms)
        whole = np.zeros((rows + 1, rows + 1))  # the reference last, at 0 V
        whole[:-1, :-1] = self.ohms
        largest = whole.max(axis=0, initial=0.0)
        if (np.maximum(largest[p], largest[q]) * conductance).max(initial=0.0) > _ROUNDED / _EPSILON:
            return None
        response = whole[:, p] - whole[:, q]
        seen = response[p] - response[q] + np.diag(1 / conductance)
        return Inverse((whole - response @ np.linalg.solve(seen, response.T))[:-1, :-1])
