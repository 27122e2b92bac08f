"""Planning a sowing evening and sowing at the bench: what the two screens show."""
