"""A browser's connection, closed where nothing comes of it."""

from __future__ import annotations

import asyncio

from uvicorn.protocols.http.h11_impl import H11Protocol

PATIENCE = 10.0
"""Seconds in which a connection must bring a whole head of a request, or take in some of an answer."""


class Connection(H11Protocol):
    """A connection that is looked at now and then.

    Notes
    -----
    The server's library closes one that is idle after an answer. It waits for ever for the first request, for the rest
    of a head that comes letter by letter, and for a reader who does not read.
    """

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to look at it."""
        super().connection_made(transport)
        self._look((None, -1))

    def _look(self, before: tuple[object, int]) -> None:
        """Close the connection if it stands as it stood; look again later if not."""
        if self.transport.is_closing():
            return
        if self.cycle is None or self.cycle.response_complete:
            now: tuple[object, int] = (self.cycle, 0)  # between requests
        elif self.flow.write_paused:
            now = (self.cycle, self.transport.get_write_buffer_size())
        else:
            now = (object(), 0)  # being answered
        if now == before:
            self.transport.abort()
        else:
            self.loop.call_later(PATIENCE, self._look, now)
