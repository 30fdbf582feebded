"""What it means: the weight of evidence and the words for it."""

from asfound.weigh.scale import SCALE, Weight, weight_in_words

__all__ = ["SCALE", "Weight", "weight_in_words"]
