"""The WSGI application that `manage.py serve`, or any other WSGI server, runs."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "nursery.site.settings")

application = get_wsgi_application()
