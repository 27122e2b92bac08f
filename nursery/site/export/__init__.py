"""Everything out again: every kind of thing and of act as a table, and the tables that moving in takes."""
