//! How the load of the catch spreads over the levels below: a chain of springs that only push.
//!
//! Every level is a spring beside the posts below it, which stand on the next level or on the
//! ground. Posts that stand with a gap carry nothing until the level above has come down by it, and
//! then all of them stay closed, for nothing but the catch brings load: contact closes from the top.

use crate::units::{Force, Length, Ratio, SpringStiffness};

crate::answer! {
    /// The share of one level, the top first.
    pub struct LevelShare {
        /// Share of the catch force that this level carries.
        share: Ratio,
        /// Force in the posts below it, over the catch force.
        posts_below: Ratio,
    }
}

/// A level with the posts below it, as springs.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Stacked {
    /// Stiffness of the level; of the ground, where it gives.
    pub level: SpringStiffness,
    /// Stiffness and clear gap of the posts below it; nothing where none stand.
    pub posts: Option<(SpringStiffness, Length)>,
}

/// What one level of a stack does.
#[derive(Clone, Copy, Default, PartialEq, Debug)]
pub struct Carried {
    /// What it carries itself.
    pub force: Force,
    /// What goes down through the posts below it.
    pub posts: Force,
    /// How far it comes down.
    pub moves: Length,
}

/// A part of the chain seen from above: it answers with `stiffness` beyond `from`.
#[derive(Clone, Copy, Default)]
struct Answer {
    stiffness: f64,
    from: f64,
}

/// A force on the top of a stack, the top first. The last level may be the ground: a stiffness that is
/// infinite does not move.
#[must_use]
pub fn stack(levels: &[Stacked], force: Force) -> Vec<Carried> {
    let mut carried = vec![Carried::default(); levels.len()];
    let mut chain = vec![Answer::default(); levels.len()];
    // posts below the first so many levels are closed
    for closed in 0..levels.len().max(1) {
        settle(levels, closed, force.si(), &mut chain, &mut carried);
        let last = levels.get(closed).and_then(|l| l.posts).zip(carried.get(closed));
        let closes = last.is_some_and(|((_, gap), c)| c.moves.si() > gap.si());
        if !closes || closed + 1 >= levels.len() {
            break;
        }
    }
    carried
}

/// The chain with the posts below the first `closed` levels in contact.
fn settle(
    levels: &[Stacked],
    closed: usize,
    force: f64,
    chain: &mut [Answer],
    carried: &mut [Carried],
) {
    let mut below = Answer::default();
    for (i, (level, slot)) in levels.iter().zip(chain.iter_mut()).enumerate().rev() {
        if i > closed {
            continue;
        }
        let own = level.level.si();
        let joint =
            level.posts.filter(|_| i < closed).map_or(Answer::default(), |(k, gap)| Answer {
                // posts and what they stand on, one after the other
                stiffness: 1.0 / (1.0 / k.si() + 1.0 / below.stiffness),
                from: gap.si() + below.from,
            });
        let stiffness = own + joint.stiffness;
        let from =
            if stiffness.is_finite() { joint.stiffness * joint.from / stiffness } else { 0.0 };
        below = Answer { stiffness, from };
        *slot = below;
    }
    let mut rest = force;
    for (i, ((level, part), out)) in
        levels.iter().zip(chain.iter()).zip(carried.iter_mut()).enumerate()
    {
        if i > closed {
            *out = Carried::default();
            continue;
        }
        let own = level.level.si();
        let moves = rest / part.stiffness + part.from;
        // the ground that does not move takes what comes
        let force = if own.is_finite() && i < closed { own * moves } else { rest };
        rest -= force;
        *out = Carried {
            force: Force::from_si(force),
            posts: Force::from_si(rest),
            moves: Length::from_si(moves),
        };
    }
}

/// Shares of levels of these stiffnesses, the top first, joined by posts of stiffness `post`;
/// with `ground` the posts go on to the ground, which is the last share.
/// `K_1 = k_lowest; K_(j+1) = k + 1/(1/k_post + 1/K_j)`, top share `k/K_n` (own derivation).
#[must_use]
pub fn shares(levels: &[SpringStiffness], post: SpringStiffness, ground: bool) -> Vec<LevelShare> {
    let last = levels.len().saturating_sub(1);
    let mut all: Vec<Stacked> = levels
        .iter()
        .enumerate()
        .map(|(i, level)| Stacked {
            level: *level,
            posts: (i < last || ground).then_some((post, Length::ZERO)),
        })
        .collect();
    if ground && !all.is_empty() {
        all.push(GROUND);
    }
    let found = stack(&all, Force::from_si(1.0));
    found.iter().map(|c| c.share_of(Force::from_si(1.0))).collect()
}

/// Ground that does not move.
pub(super) const GROUND: Stacked =
    Stacked { level: SpringStiffness::from_si(f64::INFINITY), posts: None };

impl Carried {
    pub(super) fn share_of(&self, force: Force) -> LevelShare {
        LevelShare {
            share: Ratio::from(self.force / force),
            posts_below: Ratio::from(self.posts / force),
        }
    }
}
