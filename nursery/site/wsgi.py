"""The WSGI application that `manage.py serve`, or any other WSGI server, runs."""

import os

from django.core.wsgi import get_wsgi_application

from nursery.site.settled import settle

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "nursery.site.settings")

application = get_wsgi_application()
settle()
