"""What an act says that the books do not agree with. Listed before it is recorded, so that a view can ask once; taken
and flagged by the record function all the same. Reads the things as they are, writes nothing; a correction is told of
the things as they would be ``without`` the act that it takes the place of."""
