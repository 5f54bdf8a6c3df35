"""Rule profiles: limits with a source each, passed in, never global."""

from deckplan.rules.file import load_profile, profile_names
from deckplan.rules.profile import Choice, Limit, Profile

__all__ = ["Choice", "Limit", "Profile", "load_profile", "profile_names"]
