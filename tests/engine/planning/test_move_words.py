from engine.planning.move_words import distance, moves_in_words


def test_the_moves_of_a_hand_make_one_sentence(planned):
    _, two, _ = planned("Em7 A7 Dmaj7", method="shell").steps
    words = moves_in_words(two, "right")
    assert "stays" in words
    assert "down a half step onto C#" in words


def test_a_hand_without_keys_rests(planned):
    assert moves_in_words(planned("Dm7 G7", hands="left").steps[1], "right") == "rests"


def test_distances_are_named_as_players_name_them():
    assert [distance(semitones) for semitones in (1, 2, 7, 12, 19)] == [
        "a half step", "a whole step", "a fifth", "an octave", "an octave and a fifth",
    ]  # fmt: skip
