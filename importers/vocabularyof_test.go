package importers

import (
	"maps"
	"testing"
)

func TestTheVocabularyIsBuiltOncePerReference(t *testing.T) {
	one := reference(t)
	two := maps.Clone(one)
	first, err := vocabularyOf(one)
	if err != nil {
		t.Fatal(err)
	}
	if again, _ := vocabularyOf(one); again != first {
		t.Error("the same reference is read twice")
	}
	if other, _ := vocabularyOf(two); other == first {
		t.Error("another reference gets the words of the first")
	}
	if _, err := vocabularyOf(nil); err == nil {
		t.Error("no reference at all has words")
	}
}
