"""What to look at today, and why: gather, one small rule for each kind of task, order, cut to the minutes there are."""
