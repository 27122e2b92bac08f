from django.apps import AppConfig


class BreedingConfig(AppConfig):
    name = "breeding"

    def ready(self) -> None:
        from breeding import again, kinds
        from nursery.records import registry

        registry.register(kinds.THINGS, kinds.ACTS, kinds.SUMMARIES, kinds.BELOW, again.AGAIN)
