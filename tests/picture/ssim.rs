//! How alike two images look: the structural similarity of their luma.

/// Rows of red, green and blue, a byte each in sRGB.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Bytes {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) rgb: Vec<[u8; 3]>,
}

/// The standard deviation of the window, pixels, and how far it reaches each way: 11 pixels across, as in the source.
const SIGMA_PX: f64 = 1.5;
const REACH: usize = 5;

/// The mean structural similarity of two images of one size: 1 if they are the same.
///
/// ```text
/// SSIM = mean of (2 μa μb + C1) (2 σab + C2) / ((μa² + μb² + C1) (σa² + σb² + C2)),   C1 = (0.01 · 255)², C2 = (0.03 · 255)²
/// ```
/// `μ`, `σ` weighted means, variances and covariance of 8-bit luma under a Gaussian window that lies wholly in the image.
///
/// # Source
/// Z. Wang, A. C. Bovik, H. R. Sheikh, E. P. Simoncelli, "Image quality assessment: from error visibility to structural
/// similarity", IEEE Transactions on Image Processing 13(4), 2004, equation 13 and section III.C.
pub(crate) fn ssim(a: &Bytes, b: &Bytes) -> f64 {
    assert_eq!((a.width, a.height), (b.width, b.height), "images of one size");
    let (c1, c2) = ((0.01 * 255.0) * (0.01 * 255.0), (0.03 * 255.0) * (0.03 * 255.0));
    let (luma_a, luma_b) = (luma(a), luma(b));
    let mean = |value: fn(f64, f64) -> f64| {
        let values: Vec<f64> = luma_a.iter().zip(&luma_b).map(|(a, b)| value(*a, *b)).collect();
        smooth(&values, a.width)
    };
    let (mean_a, mean_b) = (mean(|a, _| a), mean(|_, b| b));
    let (square_a, square_b, product) = (mean(|a, _| a * a), mean(|_, b| b * b), mean(|a, b| a * b));
    let windows = mean_a.len();
    let sum: f64 = (0..windows)
        .map(|at| {
            let (ma, mb) = (mean_a[at], mean_b[at]);
            let (variance_a, variance_b) = (square_a[at] - ma * ma, square_b[at] - mb * mb);
            let covariance = product[at] - ma * mb;
            (2.0 * ma * mb + c1) * (2.0 * covariance + c2)
                / ((ma * ma + mb * mb + c1) * (variance_a + variance_b + c2))
        })
        .sum();
    sum / f64::from(u32::try_from(windows).expect("a small image"))
}

/// 8-bit luma with the weights of sRGB's primaries (ITU-R BT.709-6, item 3.2).
pub(crate) fn luma(image: &Bytes) -> Vec<f64> {
    let weighted = |[red, green, blue]: &[u8; 3]| {
        libm::round(0.2126 * f64::from(*red) + 0.7152 * f64::from(*green) + 0.0722 * f64::from(*blue))
    };
    image.rgb.iter().map(weighted).collect()
}

/// The weighted mean under each window that lies wholly in the image.
fn smooth(values: &[f64], width: usize) -> Vec<f64> {
    let weights: Vec<f64> = (0..=2 * REACH)
        .map(|at| {
            let from_middle = f64::from(u32::try_from(at.abs_diff(REACH)).expect("small")) / SIGMA_PX;
            libm::exp(-from_middle * from_middle / 2.0)
        })
        .collect();
    let total: f64 = weights.iter().sum();
    let under = |window: &mut dyn Iterator<Item = f64>| {
        window.zip(&weights).map(|(value, weight)| value * weight).sum::<f64>() / total
    };
    let narrower = width - 2 * REACH;
    let along_rows: Vec<f64> = values
        .chunks_exact(width)
        .flat_map(|row| row.windows(weights.len()).map(|window| under(&mut window.iter().copied())))
        .collect();
    (0..along_rows.len() - 2 * REACH * narrower)
        .map(|first| under(&mut along_rows[first..].iter().step_by(narrower).copied()))
        .collect()
}
