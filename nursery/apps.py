from django.apps import AppConfig


class NurseryConfig(AppConfig):
    name = "nursery"

    def ready(self) -> None:
        from nursery import again, kinds, lookups  # noqa: F401 - the lookups register themselves
        from nursery.records import registry

        told = {"again": again.AGAIN, "only_back": again.ONLY_BACK}
        registry.register(kinds.THINGS, kinds.ACTS, below=kinds.BELOW, **told)
