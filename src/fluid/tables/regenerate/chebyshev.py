"""Chebyshev series on an interval and on a rectangle, written as whole numbers times one step."""

import numpy as np
from numpy.polynomial import chebyshev as series


def nodes(count):
    """Roots of the Chebyshev polynomial of that degree, in [-1, 1]."""
    return np.cos(np.pi * (np.arange(count) + 0.5) / count)[::-1]


def fit(values):
    """Coefficients through values at the nodes, along every axis."""
    values = np.asarray(values, float)
    for axis in range(values.ndim):
        count = values.shape[axis]
        matrix = np.linalg.inv(series.chebvander(nodes(count), count - 1))
        values = np.moveaxis(np.tensordot(matrix, values, (1, axis)), 0, axis)
    return values


def evaluate(coefficients, *at):
    """Value of the series."""
    if len(at) == 1:
        return series.chebval(at[0], coefficients)
    return series.chebval2d(at[0], at[1], coefficients)


def trimmed(coefficients, tolerance):
    """The same without the trailing rows and columns that together stay below a tolerance."""
    kept = coefficients
    while kept.ndim == 2 and kept.shape[0] > 1 and np.abs(kept[-1]).sum() < tolerance:
        kept = kept[:-1]
    while kept.shape[-1] > 1 and np.abs(kept[..., -1]).sum() < tolerance:
        kept = kept[..., :-1]
    return kept


def stepped(coefficients, step):
    """Rounded to multiples of a step, as they are read back."""
    return np.round(coefficients / step) * step


def line(word, coefficients, step):
    """One line of a table file: word, sizes, step, whole numbers row by row."""
    sizes = " ".join(str(size) for size in coefficients.shape)
    numbers = " ".join(str(int(number)) for number in np.round(coefficients / step).ravel())
    return f"{word} {sizes} {step:.0e} {numbers}"
