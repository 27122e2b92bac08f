from datetime import date

from breeding.rounds.tasks import tasks_for


def next_in_words(thing, today: date) -> str:
    """What comes next for a thing, in a few words: "Look at pods Tue 1 Dec", or why nothing does."""
    outlook = tasks_for(thing, today)
    if not outlook.tasks:
        return outlook.why_not
    task = min(outlook.tasks, key=lambda task: task.due)
    return f"{task.title} {'today' if task.due <= today else f'{task.due:%a} {task.due.day} {task.due:%b}'}"
