"""Draws the frames of the moving picture without their words; what stands behind a frame is kept while it is needed."""

from __future__ import annotations

from typing import assert_never

from PIL import Image

from sweep.apart import give_back
from sweep.cut.finish_moments import OperationMoments, operations_of
from sweep.cut.stages import mesh_of_all, stage
from sweep.shape.mesh import joined
from sweep.show.pictures.film import Film, FinishShot, PassShot, Shot, TurnShot
from sweep.show.pictures.two_views import Label, TwoViews
from sweep.show.pictures.whole_view import WholeView
from sweep.show.solids.stock import turning
from sweep.show.solids.turns import turned
from sweep.show.solids.views import being_turned, end_on
from sweep.show.vtk.over_the_saw import CHORD


class Studio:
    """One window at a time: a saw with the stock on it, the stock being turned, or the moulding.

    Parameters
    ----------
    film : Film
    width, upper, lower : int, pixels
        Of both views of a saw; one view in their place is as high as both.
    """

    def __init__(self, film: Film, width: int, upper: int, lower: int) -> None:
        self._film, self._width, self._upper, self._lower = film, width, upper, lower
        self._views: TwoViews | WholeView | None = None
        self._of: tuple[type[Shot], int] | None = None
        scene, begun = film.unfinished(CHORD)
        self._planed, self._made = scene.stock, joined(begun.meshes)
        self._operations: tuple[OperationMoments, ...] = operations_of(scene, begun)

    def close(self) -> None:
        """Let go of what was drawn last."""
        if self._views is not None:
            self._views.close()
            self._views = self._of = None
            give_back()  # it held a picture seven times over

    def labels(self) -> tuple[Label, ...]:
        """Return the words in the frame that was drawn last."""
        return self._views.labels() if isinstance(self._views, TwoViews) else ()

    def picture(self, shot: Shot, count: int) -> Image.Image:
        """Return a frame, `FINE` times as large as it will be; `count` says how often the blade has turned on."""
        film = self._film
        match shot:
            case PassShot():
                return self._saw(shot).picture(shot.moment, count)
            case TurnShot():
                scene = film.takes[shot.take].scene
                blank = scene.stock.blank
                assert blank is not None  # the first set-up is not turned
                mesh = mesh_of_all(scene, stage(scene, 0, chord=CHORD))
                motion = turned(blank.lying, scene.stock, shot.share)
                return self._whole(shot).picture(mesh, film.colours[mesh.cut_by], motion)
            case FinishShot():
                meshes = self._operations[shot.operation].at(shot.share) if self._operations else (self._made,)
                mesh = joined(meshes)
                return self._whole(shot).picture(mesh, film.colours[mesh.cut_by], turning(self._planed))
            case other:
                assert_never(other)

    def _saw(self, shot: PassShot) -> TwoViews:
        key = PassShot, shot.take
        if self._of != key or not isinstance(self._views, TwoViews):
            self.close()
            film = self._film
            self._views = TwoViews(film.takes[shot.take].scene, film.colours, self._width, self._upper, self._lower)
            self._of = key
        return self._views

    def _whole(self, shot: TurnShot | FinishShot) -> WholeView:
        key = type(shot), shot.take if isinstance(shot, TurnShot) else 0
        if self._of != key or not isinstance(self._views, WholeView):
            self.close()
            if isinstance(shot, TurnShot):
                stock = self._film.takes[shot.take].scene.stock
                assert stock.blank is not None  # the first set-up is not turned
                place = being_turned(stock.blank.lying, stock)
            else:
                stock, place = self._planed, end_on(self._planed)
            self._views, self._of = WholeView(stock, place, self._width, self._upper + self._lower), key
        return self._views
