"""What it means: the weight of evidence and the words for it."""

from asfound.weigh.scale import NEUTRAL, SCALE, Weight, support_in_words, weight_in_words

__all__ = ["NEUTRAL", "SCALE", "Weight", "support_in_words", "weight_in_words"]
