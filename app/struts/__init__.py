"""The strut finder: the table of usual sizes, the sheet that looks for struts, its cards and words."""
