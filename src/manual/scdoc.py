"""What is said in the language of scdoc, by whoever writes a page."""
import re


def escape(text):
    """As scdoc has it when every character stands for itself."""
    return re.sub(r"([\\*_`#\[\]|~])", r"\\\1", text)


def joined(words):
    """a, b or c; a word that comes again is left out."""
    words = list(dict.fromkeys(words))
    return " or ".join(filter(None, [", ".join(words[:-1]), words[-1]]))
