"""Pods lost and looks made, by the rule and by the best fixed plan in hindsight, in simulated nurseries.

``world`` is the truth, ``watched`` a nursery that does what the rule asks and learns from what it saw, ``fixed`` the
plan to hold it against. Start with ``python -m tests.benchmarks.season [nurseries]``.
"""
