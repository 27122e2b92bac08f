from django.apps import AppConfig


class BreedingConfig(AppConfig):
    name = "breeding"

    def ready(self) -> None:
        from breeding import again, kinds
        from nursery.records import registry

        below = {"summaries": kinds.SUMMARIES, "below": kinds.BELOW}
        registry.register(kinds.THINGS, kinds.ACTS, **below, again=again.AGAIN, only_back=again.ONLY_BACK)
