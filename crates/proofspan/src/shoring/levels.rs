//! How the load of the catch spreads over the levels below: a chain of springs.

use smallvec::SmallVec;

use crate::units::{Ratio, SpringStiffness};

crate::answer! {
    /// The share of one level, the top first.
    pub struct LevelShare {
        /// Share of the catch force that this level carries.
        share: Ratio,
        /// Force in the posts below it, over the catch force.
        posts_below: Ratio,
    }
}

/// Shares of levels of these stiffnesses, the top first, joined by posts of stiffness `post`;
/// with `ground` the posts go on to the ground, which is the last share.
/// `K_1 = k_lowest; K_(j+1) = k + 1/(1/k_post + 1/K_j)`, top share `k/K_n` (own derivation).
#[must_use]
pub fn shares(levels: &[SpringStiffness], post: SpringStiffness, ground: bool) -> Vec<LevelShare> {
    // stiffness of the chain seen from each level, from below
    let mut chain: SmallVec<[f64; 8]> = SmallVec::new();
    let mut below: Option<f64> = None;
    for (i, level) in levels.iter().rev().enumerate() {
        let support = match below {
            Some(k) => 1.0 / (1.0 / post.si() + 1.0 / k),
            None if i == 0 && ground => post.si(),
            None => 0.0,
        };
        let k = level.si() + support;
        chain.push(k);
        below = Some(k);
    }
    chain.reverse();
    let mut rest = 1.0;
    let mut out: Vec<LevelShare> = Vec::with_capacity(levels.len() + 1);
    for (level, k) in levels.iter().zip(&chain) {
        let share = rest * (level.si() / k);
        rest -= share;
        out.push(LevelShare { share: Ratio::from(share), posts_below: Ratio::from(rest.max(0.0)) });
    }
    if ground {
        out.push(LevelShare { share: Ratio::from(rest), posts_below: Ratio::ZERO });
    }
    out
}
