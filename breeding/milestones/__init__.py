"""The cached columns of breeding's things, from their acts: one pure function per kind, no database and no clock."""
