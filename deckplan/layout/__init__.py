"""From levels to wood: joists, beams, posts, footings, boards, edges."""
