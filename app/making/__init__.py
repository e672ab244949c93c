"""The files that go to the shop: what they are (`plan`), their names (`names`), the parts list (`rows`), and writing
all of them or none (`writing`). The command line and the window use the same (`command`, `job`).
"""
