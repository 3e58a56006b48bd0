//! Grey pixels.

/// Every so many pixels the noise is looked at.
const NOISE_STEP: usize = 3;

/// A picture in shades of grey.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grey {
    width: usize,
    height: usize,
    light: Vec<u8>,
}

impl Grey {
    /// A picture from its rows; `None` if they do not fill it, or it has none.
    pub fn new(width: usize, height: usize, light: Vec<u8>) -> Option<Self> {
        let fits = width.checked_mul(height) == Some(light.len()) && width > 1 && height > 1;
        fits.then_some(Self { width, height, light })
    }

    /// The light of pixels with red, green, blue and opacity, as ITU-R BT.601 weighs them.
    pub fn light_of(rgba: &[u8]) -> Vec<u8> {
        let light = |of: &[u8]| {
            let sum = 299 * u32::from(of[0]) + 587 * u32::from(of[1]) + 114 * u32::from(of[2]);
            u8::try_from((sum + 500) / 1000).unwrap_or(u8::MAX)
        };
        rgba.chunks_exact(4).map(light).collect()
    }

    /// Width and height, px.
    pub fn size(&self) -> [f64; 2] {
        [self.width as f64, self.height as f64]
    }

    /// The light at a point, 0 to 255, between the middles of pixels by their distances; `None` outside.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "inside the picture"
    )]
    pub fn at(&self, [x, y]: [f64; 2]) -> Option<f64> {
        let (x, y) = (x - 0.5, y - 0.5);
        let [width, height] = self.size();
        if !(x >= 0.0 && y >= 0.0 && x < width - 1.0 && y < height - 1.0) {
            return None;
        }
        let (left, top) = (x as usize, y as usize);
        let (right, down) = (x - left as f64, y - top as f64);
        let light = |x: usize, y: usize| f64::from(self.light[y * self.width + x]);
        let above = light(left, top) * (1.0 - right) + light(left + 1, top) * right;
        let below = light(left, top + 1) * (1.0 - right) + light(left + 1, top + 1) * right;
        Some(above * (1.0 - down) + below * down)
    }

    /// Standard deviation of the noise, levels, by the median of second differences of neighbours: edges are few.
    pub fn noise(&self) -> f64 {
        let mut counts = [0_usize; 511];
        for y in (0..self.height).step_by(NOISE_STEP) {
            let row = &self.light[y * self.width..(y + 1) * self.width];
            for three in row.windows(3).step_by(NOISE_STEP) {
                let [a, b, c] = [three[0], three[1], three[2]].map(usize::from);
                counts[(2 * b).abs_diff(a + c).min(510)] += 1;
            }
        }
        let half = counts.iter().sum::<usize>() / 2;
        let mut seen = 0;
        let median = counts.iter().position(|count| {
            seen += count;
            seen > half
        });
        // The median of |x| is 0.6745 σ, and 2b − a − c has √6 times the deviation of a pixel.
        median.unwrap_or(0) as f64 / 0.6745 / 6.0_f64.sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn light_lies_between_the_middles_of_pixels() {
        let grey = Grey::new(2, 2, vec![0, 100, 50, 150]).expect("four pixels");
        assert_eq!(grey.at([1.0, 0.75]), Some(62.5));
        assert_eq!(grey.at([0.5, 0.5]), Some(0.0));
        assert_eq!((grey.at([0.4, 1.0]), grey.at([1.0, f64::NAN])), (None, None));
        assert_eq!(Grey::new(2, 3, vec![0; 4]), None);
        assert_eq!(Grey::new(usize::MAX, 2, vec![0; 4]), None);
    }

    #[test]
    fn colours_become_light() {
        assert_eq!(Grey::light_of(&[255, 255, 255, 255, 255, 0, 0, 255, 9]), [255, 76]);
    }
}
