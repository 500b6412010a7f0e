"""A cluster of machines that is running already, through its own client: scheduling and transport are Dask's."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import contextmanager

from sweep.errors import SceneError
from sweep.shop.program import program
from sweep.shop.work import Opened

WAIT = 20.0
"""s. How long a scheduler may take to answer."""


def cluster_at(address: str) -> Opened:
    """Return what gives the workers of a Dask cluster.

    Parameters
    ----------
    address : str
        Of its scheduler: ``tcp://host:port``.

    Raises
    ------
    SceneError
        When the client is not installed.
    """
    try:
        from distributed import Client
    except ImportError:
        raise SceneError("--cluster", "Dask's client is not installed", "install sweep[cluster]") from None

    # what it says of a scheduler that goes are tracebacks; what there is to say is said in `work.py`
    logging.getLogger("distributed.client").setLevel(logging.CRITICAL)

    @contextmanager
    def opened() -> Iterator[tuple[Executor, int]]:
        try:
            client = Client(address, timeout=WAIT, set_as_default=False)
        except (OSError, ValueError) as wrong:
            told = " ".join(str(wrong).split())[:120] or type(wrong).__name__
            problem = f"there is no scheduler at {address} ({told})"
            raise SceneError("--cluster", problem, "write the address that it prints, tcp://host:port") from None
        with client:
            threads = sum(client.nthreads().values())
            if not threads:
                raise SceneError("--cluster", f"the cluster at {address} has no workers", "start some, then run again")
            try:
                versions = set(client.run(program).values())
            except Exception as wrong:  # whatever a worker meets with
                problem = f"a worker there cannot run sweep ({type(wrong).__name__})"
                raise SceneError("--cluster", problem, "install this version of sweep on every worker") from None
            if versions != {program()}:
                problem = f"its workers have sweep {', '.join(sorted(versions))}, and this is {program()}"
                raise SceneError("--cluster", problem, "install this version on every worker")
            yield client.get_executor(), threads

    return opened
