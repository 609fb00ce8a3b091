"""Boards ripped into lanes: how many boards, how each is ripped, what each lane holds; decided in that order."""
