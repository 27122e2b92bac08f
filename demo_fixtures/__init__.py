"""Drizzle Lane Nursery: an invented nursery to look round in, seven seasons deep on the day it is loaded.

Tables say what happened in the last two, as days before the day of loading; the modules beside them say who wrote it
down and when. ``earlier`` makes the seasons before from two tables and a fixed chance.
Everything goes into the books through the record functions, as it would from a phone.
"""
