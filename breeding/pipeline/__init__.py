"""The season on one page: gather what is under way in a fixed number of queries, work out lines, sift them, draw them.

All but ``gather`` is pure: rows, expectations and a day in, small frozen dataclasses out.
"""
