"""Forms: what a person types or taps, turned into the arguments of one record function."""
