"""The drawers: the stages of the job, Trace, Pins, Lift, Build. One is open at a time, over the board's left edge; none
is ever locked.
"""
