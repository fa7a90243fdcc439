"""The fewest sticks by trying everything: the oracle of the tests of sticks and of their joints."""


def fewest_sticks(lengths, stock, kerf):
    """Return how many sticks the lengths take at least, all in one unit."""
    best = len(lengths)

    def put(n, rests):
        nonlocal best
        if len(rests) >= best:
            return
        if n == len(lengths):
            best = len(rests)
            return
        for i, rest in enumerate(rests):
            if lengths[n] <= rest + 1e-9:
                put(n + 1, [*rests[:i], rest - lengths[n] - kerf, *rests[i + 1 :]])
        put(n + 1, [*rests, stock - lengths[n] - kerf])

    put(0, [])
    return best
