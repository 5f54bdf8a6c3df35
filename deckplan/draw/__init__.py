"""Views turn a study into a scene; painters know roles, not decks."""
