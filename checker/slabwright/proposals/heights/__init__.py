"""Heights proposed for a slab: what is asked of them, rounds of linear programs, rounding, clashes and other folds.

A search sees the slab as rows of a linear program (`asked`, from what is held, from greatest falls and from where water
goes), moves the points the least that keeps them (`rounds`), and lets the review judge what it finds (`rounding`).
"""
