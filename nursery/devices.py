"""What somebody signed in on, in a few words, from what the browser says of itself. Browsers fib; it is a hint only."""

LONGEST_WORDS = 60

_BROWSERS = (
    ("Edg", "Edge"),
    ("OPR/", "Opera"),
    ("SamsungBrowser", "Samsung browser"),
    ("Firefox", "Firefox"),
    ("FxiOS", "Firefox"),
    ("CriOS", "Chrome"),
    ("Chrome", "Chrome"),
    ("Safari", "Safari"),
)
_SYSTEMS = (
    ("iPhone", "an iPhone"),
    ("iPad", "an iPad"),
    ("Android", "Android"),
    ("CrOS", "a Chromebook"),
    ("Windows", "Windows"),
    ("Macintosh", "a Mac"),
    ("Linux", "Linux"),
)
"""Looked for in this order: each browser also names those that it wants to be taken for."""


def device_words(user_agent: str) -> str:
    """
    >>> device_words("Mozilla/5.0 (Linux; Android 14; Pixel 7) AppleWebKit/537.36 Chrome/126.0 Mobile Safari/537.36")
    'Chrome on Android phone'
    >>> device_words("Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:127.0) Gecko/20100101 Firefox/127.0")
    'Firefox on Windows'
    >>> device_words("")
    'a device that does not say what it is'
    """
    browser = next((words for sign, words in _BROWSERS if sign in user_agent), "")
    system = next((words for sign, words in _SYSTEMS if sign in user_agent), "")
    if system == "Android":
        system = "Android phone" if "Mobile" in user_agent else "Android tablet"
    if browser and system:
        return f"{browser} on {system}"
    return browser or system or "a device that does not say what it is"
