//! A plane of values, one a pixel, in rows; and work on it shared by two threads.

/// Threads that share the work on whole pictures.
const THREADS: usize = 2;
/// Planes of fewer rows are not worth a second thread.
const FEW: usize = 256;

/// Values in rows from the top, each row from the left.
#[derive(Debug, Clone, PartialEq)]
pub struct Plane<T> {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// `width * height` values.
    pub values: Vec<T>,
}

/// Which pixels belong.
pub type Mask = Plane<bool>;

impl<T: Copy> Plane<T> {
    /// A plane of one value.
    #[must_use]
    pub fn filled(width: usize, height: usize, value: T) -> Self {
        Self {
            width,
            height,
            values: vec![value; width * height],
        }
    }

    /// The value at a column and a row.
    #[must_use]
    #[inline]
    pub fn at(&self, x: usize, y: usize) -> T {
        self.values[y * self.width + x]
    }

    /// The value at a column and a row, of the nearest pixel where that is outside.
    #[must_use]
    #[inline]
    pub fn near(&self, x: isize, y: isize) -> T {
        let x = x.clamp(0, self.width as isize - 1) as usize;
        let y = y.clamp(0, self.height as isize - 1) as usize;
        self.at(x, y)
    }

    /// One row.
    #[must_use]
    pub fn row(&self, y: usize) -> &[T] {
        &self.values[y * self.width..(y + 1) * self.width]
    }

    /// A plane of the same size, each value made from one of these.
    #[must_use]
    pub fn map<U>(&self, make: impl Fn(T) -> U) -> Plane<U> {
        let values = self.values.iter().map(|&value| make(value)).collect();
        Plane {
            width: self.width,
            height: self.height,
            values,
        }
    }

    /// A rectangle cut out, from a corner, as far as the plane reaches.
    #[must_use]
    pub fn cut(&self, x: usize, y: usize, width: usize, height: usize) -> Self {
        let rows = y..(y + height).min(self.height);
        let columns = x..(x + width).min(self.width);
        let (width, height) = (columns.len(), rows.len());
        let mut values = Vec::with_capacity(width * height);
        for row in rows {
            values.extend_from_slice(&self.row(row)[columns.clone()]);
        }
        Self {
            width,
            height,
            values,
        }
    }
}

impl Mask {
    /// How many pixels belong.
    #[must_use]
    pub fn count(&self) -> usize {
        self.values.iter().filter(|&&one| one).count()
    }
}

/// Makes a plane row by row, the rows shared by two threads: `make(y, row)` fills one.
pub fn by_rows<T: Copy + Send>(
    width: usize,
    height: usize,
    empty: T,
    make: impl Fn(usize, &mut [T]) + Sync,
) -> Plane<T> {
    let mut plane = Plane::filled(width, height, empty);
    if width == 0 || height == 0 {
        return plane;
    }
    let each = if height < FEW {
        height
    } else {
        height.div_ceil(THREADS)
    };
    std::thread::scope(|scope| {
        for (part, rows) in plane.values.chunks_mut(each * width).enumerate() {
            let make = &make;
            let mut work = move || {
                for (step, row) in rows.chunks_mut(width).enumerate() {
                    make(part * each + step, row);
                }
            };
            if each == height {
                work()
            } else {
                drop(scope.spawn(work))
            }
        }
    });
    plane
}
