//! Many looks at once: Benjamini and Hochberg's false discovery rate (J. R. Statist. Soc. B 57, 1995).

/// The adjusted q of each p, in the order given. A p that is no number counts as 1.
#[must_use]
pub fn benjamini_hochberg(p: &[f64]) -> Vec<f64> {
    let clean: Vec<f64> = p
        .iter()
        .map(|v| if v.is_nan() { 1.0 } else { v.clamp(0.0, 1.0) })
        .collect();
    let mut order: Vec<usize> = (0..p.len()).collect();
    order.sort_by(|&i, &j| clean[j].total_cmp(&clean[i]));
    let mut q = vec![1.0; p.len()];
    let mut least: f64 = 1.0;
    for (above, &i) in order.iter().enumerate() {
        let rank = p.len() - above;
        least = least.min(clean[i] * p.len() as f64 / rank as f64);
        q[i] = least;
    }
    q
}
