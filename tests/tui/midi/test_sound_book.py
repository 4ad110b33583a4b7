"""What sounds is known after the process that played it has died."""

import subprocess
import sys

from engine.performance.events import note_off
from tests.tui.midi.studio import ROOT
from tui.midi.sound_book import SoundBook, new_book_file, opened_book, remove_book_file

WRITER = """
import os, signal, sys
sys.path.insert(0, {root!r})
from tui.midi.sound_book import SoundBook
book = SoundBook({path!r})
book.write(1, 60, True); book.write(16, 127, True); book.write(2, 64, True); book.write(2, 64, False)
os.kill(os.getpid(), signal.SIGKILL)
"""


def test_what_a_killed_process_left_sounding_stands_in_the_book():
    path = new_book_file()
    try:
        book = SoundBook(path)
        subprocess.run([sys.executable, "-c", WRITER.format(root=str(ROOT), path=path)], check=False)
        assert book.sounding == ((1, 60), (16, 127))
        assert book.note_offs() == (note_off(60, 1), note_off(127, 16))
        book.clear()
        assert SoundBook(path).sounding == ()
    finally:
        remove_book_file(path)


def test_without_a_file_a_process_keeps_a_book_of_its_own():
    book = opened_book("/nowhere/at/all")
    book.write(3, 61, True)
    assert book.sounding == ((3, 61),)
    assert opened_book("").sounding == ()
