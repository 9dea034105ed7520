"""Points in a plane: from distances between them to coordinates, and one set laid on another.

nets        least squares of distances, residuals, what is missing
mirrors     nets that the same distances would allow
fits        frames, best fit of two sets, circle through points
solving     symmetric equations, by Cholesky's method
"""
