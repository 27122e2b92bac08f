"""What the nursery's own records say of how long each step takes: waits, fits, and where they are kept."""
