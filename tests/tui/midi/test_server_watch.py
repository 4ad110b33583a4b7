"""A sound server that ends is noticed by the connection to it."""

import socket
import sys

import pytest

from tui.midi.server_watch import ServerWatch

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="other systems do not list sockets so")


def test_a_connection_that_the_library_loses_is_a_server_that_is_gone():
    ours, theirs = socket.socketpair()
    watch = ServerWatch()
    more = socket.socket()
    assert not watch.gone
    ours.close()
    assert watch.gone
    watch.begin()
    assert not watch.gone
    more.close()
    theirs.close()
