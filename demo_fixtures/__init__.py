"""Drizzle Lane Nursery: an invented nursery to look round in, two seasons deep on the day it is loaded.

Tables say what happened, as days before the day of loading; the modules beside them say who wrote it down and when.
Everything goes into the books through the record functions, as it would from a phone.
"""
