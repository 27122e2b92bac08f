from django.apps import AppConfig


class NurseryConfig(AppConfig):
    name = "nursery"

    def ready(self) -> None:
        from nursery import kinds
        from nursery.records import registry

        registry.register(kinds.THINGS, kinds.ACTS)
