"""Every catalogue of templates/words says everything that English says, with the same gaps."""

import json
import pathlib
import re
import unittest

WORDS = pathlib.Path(__file__).resolve().parents[2] / "templates" / "words"
GAP = re.compile(r"\{([\w-]+)\}")
# What a label must never say, in any language: it is printed before anyone can know.
NEVER_ON_A_LABEL = re.compile(r"\b(sterile|passed|estéril|estériles|esterilizad[oa]|apt[oa]|superad[oa]|aprobad[oa])\b",
                              re.IGNORECASE)
WORD = re.compile(r"[A-Za-zÀ-ÿ]{3,}")


def catalogue(path):
    return json.loads(path.read_text(encoding="utf-8"))


class Languages(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.english = catalogue(WORDS / "en.json")
        cls.others = {path.stem: catalogue(path) for path in WORDS.glob("*.json") if path.stem != "en"}

    def test_spanish_is_there(self):
        self.assertIn("es", self.others)

    def test_keys_are_the_same_in_the_same_order(self):
        for language, words in self.others.items():
            with self.subTest(language):
                self.assertEqual(list(self.english), list(words))

    def test_gaps_are_the_same(self):
        for language, words in self.others.items():
            for key, text in words.items():
                with self.subTest(language=language, key=key):
                    self.assertEqual(set(GAP.findall(self.english.get(key, ""))), set(GAP.findall(text)))

    def test_brackets_are_balanced(self):
        for words in [self.english, *self.others.values()]:
            for key, text in words.items():
                self.assertEqual(text.count("["), text.count("]"), key)

    def test_no_sentence_was_left_in_english(self):
        for language, words in self.others.items():
            left = [key for key, text in words.items()
                    if text == self.english.get(key) and len(WORD.findall(GAP.sub("", text))) >= 3]
            self.assertEqual([], left, language)

    def test_no_label_says_more_than_can_be_known(self):
        for words in [self.english, *self.others.values()]:
            said = [key for key, text in words.items() if key.startswith("label.") and NEVER_ON_A_LABEL.search(text)]
            self.assertEqual([], said)


if __name__ == "__main__":
    unittest.main()
