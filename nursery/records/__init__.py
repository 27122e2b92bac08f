"""The only code of nursery/ that writes. One function an act; each is one transaction and safe to repeat."""
