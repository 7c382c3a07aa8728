"""A stiff integrator of high order in decimal arithmetic: linearly implicit Euler steps, extrapolated.

P. Deuflhard, "Recent progress in extrapolation methods for ordinary differential equations", SIAM Review 27, 1985, 505-535
(from memory). Unlike the references it is compared with, it is no Runge-Kutta method and does not work in double precision.
"""

from decimal import Decimal, getcontext

getcontext().prec = 36
COLUMNS = 12


def factorise(matrix):
    """LU with row exchanges, in place; the exchanges."""
    n, exchanges = len(matrix), []
    for k in range(n):
        pivot = max(range(k, n), key=lambda i: abs(matrix[i][k]))
        matrix[k], matrix[pivot] = matrix[pivot], matrix[k]
        exchanges.append(pivot)
        for i in range(k + 1, n):
            factor = matrix[i][k] / matrix[k][k]
            matrix[i][k] = factor
            if factor:
                for j in range(k + 1, n):
                    matrix[i][j] -= factor * matrix[k][j]
    return exchanges


def solve(matrix, exchanges, right):
    x, n = list(right), len(right)
    for k in range(n):
        x[k], x[exchanges[k]] = x[exchanges[k]], x[k]
    for i in range(n):
        for j in range(i):
            x[i] -= matrix[i][j] * x[j]
    for i in reversed(range(n)):
        for j in range(i + 1, n):
            x[i] -= matrix[i][j] * x[j]
        x[i] /= matrix[i][i]
    return x


def euler(slope, jacobian, state, length, count):
    """`count` linearly implicit Euler steps with one factorisation."""
    h, n = length / count, len(state)
    matrix = [[(1 if i == j else 0) - h * jacobian[i][j] for j in range(n)] for i in range(n)]
    exchanges = factorise(matrix)
    for _ in range(count):
        change = solve(matrix, exchanges, [h * f for f in slope(state)])
        state = [y + d for y, d in zip(state, change)]
    return state


def step(problem, state, length):
    """The extrapolated state and how far the last two orders are apart, relative to the scale of each component."""
    jacobian = problem.jacobian(state)
    previous = []
    for j in range(1, COLUMNS + 1):
        row = [euler(problem.slope, jacobian, state, length, j)]
        for k in range(1, j):
            divisor = Decimal(j) / (j - k) - 1
            row.append([a + (a - b) / divisor for a, b in zip(row[k - 1], previous[k - 1])])
        previous = row
    error = max(abs(a - b) / (abs(a) + scale) for a, b, scale in zip(previous[-1], previous[-2], problem.scales))
    return previous[-1], error


def integrate(problem, until, tolerance):
    """Yield the state at each of the times `until`."""
    state, time, length = list(problem.start), Decimal(0), Decimal("1e-5")
    tolerance = Decimal(tolerance)
    for end in until:
        while time < end:
            trial = min(length, end - time)
            reached, error = step(problem, state, trial)
            ratio = float(tolerance / max(error, tolerance * Decimal("1e-12")))
            factor = Decimal(min(4.0, max(0.1, 0.85 * ratio ** (1.0 / COLUMNS))))
            if error <= tolerance:
                state, time = reached, time + trial
                length = max(length, trial * factor) if trial < length else trial * factor
            else:
                length = trial * factor
        yield state
