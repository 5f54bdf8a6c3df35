"""The workbook's panels: the only room that knows ipywidgets."""
