"""The grain of wood as the rendering library holds it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from vtkmodules.util.numpy_support import numpy_to_vtk
from vtkmodules.vtkCommonDataModel import vtkImageData
from vtkmodules.vtkRenderingCore import vtkTexture

from sweep.show.solids.stock import grain


def grain_texture() -> vtkTexture:
    """Return the grain as the rendering library holds it."""
    tones: NDArray[np.uint8] = grain()
    image = vtkImageData()
    image.SetDimensions(tones.shape[1], tones.shape[0], 1)
    image.GetPointData().SetScalars(numpy_to_vtk(np.repeat(tones.reshape(-1, 1), 3, axis=1), deep=True))
    texture = vtkTexture()
    texture.SetInputDataObject(image)
    texture.MipmapOn()
    texture.InterpolateOn()
    texture.SetMaximumAnisotropicFiltering(1.0)  # more costs a fifth of a frame and is not seen
    return texture
