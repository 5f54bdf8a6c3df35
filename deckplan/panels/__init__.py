"""Panels for notebooks and pages: fields that change the plan, views that follow. Only here are widgets."""
