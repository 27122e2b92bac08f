"""What every template and static file must keep: the policy, the comments, the contrasts, the weight."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = ROOT / "templates"
STATIC = ROOT / "static"
