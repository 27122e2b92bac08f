"""The server's side of a phone's outbox: acts kept while there was no signal, sent later and in any order.

``POST /acts/`` takes ``{"acts": [...]}``. Each act is an object with

- ``id``: the UUID minted at the tap,
- ``act``: the last part of the address of the form (``pods``, ``look``), or of what is entered new (``plants``);
  ``walk`` (nothing new at a place; ``values`` has ``things``) and ``undo`` (``values`` has ``target``, an act's UUID),
- ``thing`` (its number in addresses) or ``tag`` (the number on its tag); neither for what is entered new,
- ``values``: the form's own, by the names of its fields; a list where a field takes several,
- ``tapped_at``: day and time of the tap, ISO 8601; without an offset it is the nursery's own time,
- ``hands`` (optional): the number of the person whose hands held the phone.

The answer has ``epoch`` (it changes when a backup is restored: then a phone sends again what it still keeps) and
``acts``, in the order sent, each with the ``id`` as it came and what it ``is``:

- ``recorded``: on record, now or from an earlier sending (``again``), with its ``words`` and ``url``,
- ``flagged``: the same, but it does not fit the books; ``flags`` say why,
- ``other_values``: this UUID is on record with other values; ``rows`` show both; the second is held in the office,
- ``needs_a_look``: it could not be recorded; ``sentence`` says why; it is held in the office,
- ``sign_in_needed``: nobody who may record it is signed in; the phone keeps it,
- ``try_again``: the server was busy; the phone keeps it.

A phone may forget what is recorded, flagged, other_values or needs_a_look. ``GET /acts/`` gives the epoch, who is
signed in, the token to send as ``X-CSRFToken``, and how many acts one sending may have.
"""
