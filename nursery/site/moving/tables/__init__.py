"""Tables as people keep them: reading bytes, rows, days, numbers and names. Pure: no Django, no database, no clock."""
