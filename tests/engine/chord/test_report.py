from engine.chord.report import chord_json


def test_the_contract_of_a_chord():
    assert chord_json("Dbmaj7") == {
        "symbol": "Dbmaj7", "root": "Db", "bass": "Db", "reading": None, "error": None,
        "tones": [{"degree": "1", "name": "Db", "pc": 1}, {"degree": "3", "name": "F", "pc": 5},
                  {"degree": "5", "name": "Ab", "pc": 8}, {"degree": "7", "name": "C", "pc": 0}],
    }  # fmt: skip


def test_an_unreadable_symbol_has_an_error_and_null_for_the_rest():
    answer = chord_json("Bbmaj77")
    assert answer["error"]["column"] == 7
    assert [answer[name] for name in ("root", "bass", "tones", "reading")] == [None] * 4


def test_a_key_counts_each_tone_in_it():
    assert [tone["in_key"] for tone in chord_json("Ebmaj7", "C")["tones"]] == ["b3", "5", "b7", "2"]
