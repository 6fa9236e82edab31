"""A layout of joints for any outline: what is asked of it, cuts from rim to rim, stations, and repair of what is left.

Plain coordinates in meters; the rules that judge the result are those of the review.
"""
