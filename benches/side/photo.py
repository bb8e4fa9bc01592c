"""The same steps in OpenCV and in scikit-image, timed: each pipeline five times, the median in seconds.

Used by benches/side/photo.rs; prints `name seconds cells`, or nothing of a library that is not installed.
"""
import statistics
import sys
import time


def timed(name, steps):
    steps()
    times = []
    for _ in range(5):
        start = time.perf_counter()
        cells = steps()
        times.append(time.perf_counter() - start)
    print(name, statistics.median(times), cells)


def opencv(path):
    import cv2
    import numpy as np

    def filled(mask):
        flood = cv2.copyMakeBorder(mask, 1, 1, 1, 1, cv2.BORDER_CONSTANT)
        cv2.floodFill(flood, None, (0, 0), 128)
        return np.where(flood[1:-1, 1:-1] == 128, 0, 255).astype(np.uint8)

    def plain():
        lightness = cv2.cvtColor(cv2.imread(path), cv2.COLOR_BGR2Lab)[:, :, 0]
        _, mask = cv2.threshold(lightness, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
        return cv2.connectedComponentsWithStats(filled(mask))[0] - 1

    def whole():
        # The panel's fitted ground, the distance from it, a threshold, opened, filled, parted at necks.
        bgr = cv2.GaussianBlur(cv2.imread(path), (0, 0), 1)
        lab = cv2.cvtColor(bgr.astype(np.float32) / 255, cv2.COLOR_BGR2Lab)
        small = cv2.resize(lab, (256, 256 * lab.shape[0] // lab.shape[1]), interpolation=cv2.INTER_AREA)
        y, x = (one.ravel() for one in np.mgrid[-1:1:small.shape[0] * 1j, -1:1:small.shape[1] * 1j])
        basis = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], 1)
        flat = small.reshape(-1, 3)
        weight = np.linalg.norm(flat - np.median(flat, 0), axis=1) < 12
        for _ in range(7):
            fit = np.linalg.lstsq(basis[weight], flat[weight], rcond=None)[0]
            off = np.linalg.norm(flat - basis @ fit, axis=1)
            weight = off < np.clip(3 * np.median(off[weight]), 3, 12)
        ground = (basis @ fit).astype(np.float32).reshape(small.shape)
        ground = cv2.resize(ground, (lab.shape[1], lab.shape[0]), interpolation=cv2.INTER_LINEAR)
        delta = cv2.convertScaleAbs(np.sqrt(((lab - ground) ** 2).sum(2)), alpha=2)
        _, mask = cv2.threshold(delta, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
        mask = filled(cv2.morphologyEx(mask, cv2.MORPH_OPEN, np.ones((3, 3), np.uint8)))
        count, labels, stats, _ = cv2.connectedComponentsWithStats(mask)
        cells = 0
        for label in range(1, count):
            left, top, width, height, area = stats[label]
            if area < 100:
                continue
            own = (labels[top : top + height, left : left + width] == label).astype(np.uint8)
            deep = cv2.distanceTransform(cv2.copyMakeBorder(own, 1, 1, 1, 1, cv2.BORDER_CONSTANT), cv2.DIST_L2, 5)
            tops = (deep > 0.75 * deep.max()).astype(np.uint8)
            cells += cv2.connectedComponents(tops)[0] - 1
        return cells

    timed("opencv_plain", plain)
    timed("opencv_whole", whole)


def skimage(path):
    from scipy.ndimage import binary_fill_holes
    from skimage import color, filters, io, measure

    def plain():
        lightness = color.rgb2lab(io.imread(path))[:, :, 0]
        mask = binary_fill_holes(lightness > filters.threshold_otsu(lightness))
        labels = measure.label(mask)
        return len(measure.regionprops_table(labels, properties=("area", "centroid"))["area"])

    timed("skimage_plain", plain)


for library in (opencv, skimage):
    try:
        library(sys.argv[1])
    except ImportError:
        pass
