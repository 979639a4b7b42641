//! How the load of the catch spreads over the levels below: a chain of springs that only push.
//!
//! Every level is a spring beside the posts below it, which stand on the next level or on the
//! ground. Posts that stand with a gap carry nothing until the level above has come down by it, and
//! then all of them stay closed, for nothing but the catch brings load: contact closes from the top.

use crate::formula::{NoRecord, Recorder};
use crate::units::{Force, Length, Ratio, SpringStiffness};

crate::laws! {
    /// Stiffness of posts on what stands below them, one after the other.
    pub fn posts_on(posts: SpringStiffness as "k_posts", below: SpringStiffness as "K_below") -> SpringStiffness as "K_posts" = posts / (1.0 + posts / below);
    source "springs in series";
    /// Stiffness of a level beside the posts below it.
    pub fn beside(level: SpringStiffness as "k_level", posts: SpringStiffness as "K_posts") -> SpringStiffness as "K" = level + posts;
    source "springs side by side";
    /// Movement that closes the gaps below, as far as the level shares it.
    pub fn gaps_share(posts: SpringStiffness as "K_posts", all: SpringStiffness as "K", gaps: Length as "gaps") -> Length as "g" = posts / all * gaps;
    source "equilibrium of a level and of posts that touch after a gap";
    /// How far a level comes down.
    pub fn comes_down(force: Force as "N_above", all: SpringStiffness as "K", gaps: Length as "g") -> Length as "moves" = force / all + gaps;
    source "equilibrium of a level and of posts that touch after a gap";
    /// What a level carries itself.
    pub fn level_carries(level: SpringStiffness as "k_level", moves: Length as "moves") -> Force as "F_level" = level * moves;
    source "Hooke";
    /// What goes on through the posts below.
    pub fn goes_on(above: Force as "N_above", level: Force as "F_level") -> Force as "N_below" = above - level;
    source "equilibrium of a level";
    /// A force as a part of that of the catches.
    pub fn part_of_catch(force: Force as "F", all: Force as "F_catch") -> f64 as "share" = force / all;
    source "definition";
    /// What is left of a strength.
    pub fn left_over(spare: Force as "spare", force: Force as "F") -> Force as "left" = spare - force;
    source "definition";
    /// What posts bring sideways.
    pub fn pushed_sideways(posts: Force as "N_below", lean: f64 as "lean") -> Force as "H" = posts * lean;
    source "what posts out of plumb bring, at least 2.5 % (common practice, no source)";
}

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
#[non_exhaustive]
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
    stack_recorded(&mut NoRecord, levels, force)
}

/// The same, with its lines.
pub(super) fn stack_recorded<R: Recorder>(
    recorder: &mut R,
    levels: &[Stacked],
    force: Force,
) -> Vec<Carried> {
    let mut carried = vec![Carried::default(); levels.len()];
    let mut chain = vec![Answer::default(); levels.len()];
    let mut last = 0;
    // posts below the first so many levels are closed
    for closed in 0..levels.len().max(1) {
        last = closed;
        settle(&mut NoRecord, levels, closed, force.si(), &mut chain, &mut carried);
        let last = levels.get(closed).and_then(|l| l.posts).zip(carried.get(closed));
        let closes = last.is_some_and(|((_, gap), c)| c.moves.si() > gap.si());
        if !closes || closed + 1 >= levels.len() {
            break;
        }
    }
    if recorder.keeps() && force > Force::ZERO {
        settle(recorder, levels, last, force.si(), &mut chain, &mut carried);
    }
    carried
}

/// The chain with the posts below the first `closed` levels in contact.
fn settle<R: Recorder>(
    recorder: &mut R,
    levels: &[Stacked],
    closed: usize,
    force: f64,
    chain: &mut [Answer],
    carried: &mut [Carried],
) {
    let stiffness = SpringStiffness::from_si;
    let mut below = Answer::default();
    for (i, (level, slot)) in levels.iter().zip(chain.iter_mut()).enumerate().rev() {
        if i > closed {
            continue;
        }
        let own = level.level;
        let joint = level.posts.filter(|_| i < closed).map(|(k, gap)| Answer {
            // ground that does not move adds nothing to its posts
            stiffness: if below.stiffness.is_finite() {
                posts_on(recorder, k, stiffness(below.stiffness)).si()
            } else {
                k.si()
            },
            from: gap.si() + below.from,
        });
        below = match joint {
            Some(joint) if own.is_finite() => {
                let all = beside(recorder, own, stiffness(joint.stiffness));
                let from = if joint.from > 0.0 {
                    let gaps = Length::from_si(joint.from);
                    gaps_share(recorder, stiffness(joint.stiffness), all, gaps).si()
                } else {
                    0.0
                };
                Answer { stiffness: all.si(), from }
            }
            _ => Answer { stiffness: own.si(), from: 0.0 },
        };
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
        let (own, above) = (level.level, Force::from_si(rest));
        let moves = if part.stiffness.is_finite() {
            let from = Length::from_si(part.from);
            comes_down(recorder, above, stiffness(part.stiffness), from).si()
        } else {
            part.from
        };
        // the last that touches, and ground that does not move, take what comes
        let force = if own.is_finite() && i < closed {
            let force = level_carries(recorder, own, Length::from_si(moves));
            rest = goes_on(recorder, above, force).si();
            force.si()
        } else {
            core::mem::take(&mut rest)
        };
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
    found.iter().map(|c| c.share_of(&mut NoRecord, Force::from_si(1.0))).collect()
}

/// Ground that does not move.
pub(super) const GROUND: Stacked =
    Stacked { level: SpringStiffness::from_si(f64::INFINITY), posts: None };

impl Carried {
    pub(super) fn share_of<R: Recorder>(&self, recorder: &mut R, force: Force) -> LevelShare {
        LevelShare {
            share: Ratio::from(part_of_catch(recorder, self.force, force)),
            posts_below: Ratio::from(part_of_catch(recorder, self.posts, force)),
        }
    }
}
