import uuid

from django.http import HttpRequest


def act_id_sent(request: HttpRequest) -> uuid.UUID:
    """The UUID that came with a form; a new one where it is missing or no UUID."""
    try:
        return uuid.UUID(request.POST.get("act_id", ""))
    except ValueError:
        return uuid.uuid4()
