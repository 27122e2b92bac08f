"""Moving in: a table from any spreadsheet becomes plants, pots, seed and pods, through the record functions."""
