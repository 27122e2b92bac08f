"""The only code of breeding/ that writes. One function an act; each is one transaction and safe to repeat."""
