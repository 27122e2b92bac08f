"""Forms of the breeding season: each turned into the arguments of one record function."""
