"""Rule profiles: limits with a source each, passed in, never global."""
