//! Which whole blocks or bags, and where, with the fewest lifts?
//!
//! A place takes groups: all units of one kind that stand in it, edge to edge from its left edge, every
//! column full before the next one is begun, one group after the other. Columns are as high as the
//! kind may be stacked and the floor carries. Asked are both bearings and the moment under every
//! jack, all linear in the weights, so a bound of what is left to place cuts the search and nothing
//! that could be better is left out: fewest lifts first, of these the lightest. Layouts that tie in
//! both are counted, and the first twenty of them listed.

use smallvec::SmallVec;

use super::counterweight::Statics;
use super::reaction::RigPlace;
use crate::error::{Error, Issue, slug};
use crate::source::rule::Positive;
use crate::source::{Given, Reader};
use crate::units::{AreaLoad, Force, Length, LineLoad, Message, Moment};

crate::rule! {
    /// A side of a block: up to ten metres (library rule).
    pub BlockSide { above 0.0 SOURCE_SIGN, most 10.0 SOURCE_MAGNITUDE }
    /// How many stand on each other: one to twenty (library rule).
    pub Layers { least 1.0 SOURCE_SIGN, most 20.0 SOURCE_MAGNITUDE }
    /// How many of a kind are at hand: one to two hundred (library rule).
    pub AtHand { least 1.0 SOURCE_SIGN, most 200.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// Blocks or bags of one kind.
    pub struct BlockKind {
        /// What it is called.
        id: String,
        /// The weight of one.
        weight: Given<Force, Positive>,
        /// Its length along the member.
        length: Given<Length, BlockSide>,
        /// Its width across the member.
        width: Given<Length, BlockSide>,
        /// How many may stand on each other.
        layers: u32 where Layers = 1,
        /// How many are at hand for one member unit.
        number: u32 where AtHand,
    }
}

crate::record! {
    /// A place where blocks may stand on the reaction member.
    pub struct BlockPlace {
        /// Its left edge, from the left end of the member under test.
        from: Given<Length, RigPlace>,
        /// Its right edge.
        to: Given<Length, RigPlace>,
        /// What the floor carries there.
        carries: Given<AreaLoad, Positive> => RIG_BLOCKS "a floor of unknown strength carries no stack",
    }
    rules { place_in_order[from, to]; }
}

fn place_in_order(
    reader: &mut Reader,
    from: &Given<Length, RigPlace>,
    to: &Given<Length, RigPlace>,
) {
    if from.value >= to.value {
        let path = reader.path_of("to");
        let issue = Issue::new(slug::RIG_BLOCKS, path, "a place that ends before it begins");
        reader.push(issue.value(to.said()).limit(Message::new("beyond {}", [from.said()])));
    }
}

crate::record! {
    /// Whole blocks to choose counterweights from, per member unit.
    pub struct Blocks {
        /// The kinds at hand.
        kinds: Vec<BlockKind>,
        /// Where they may stand, from left to right.
        places: Vec<BlockPlace>,
    }
    rules { told_apart[kinds, places]; }
}

/// So many kinds times places are searched (library rule).
const MOST_GROUPS: usize = 12;
/// So many units are searched (library rule).
const MOST_UNITS: u32 = 200;

fn told_apart(reader: &mut Reader, kinds: &Vec<BlockKind>, places: &Vec<BlockPlace>) {
    let mut say = |path: String, message: &'static str| {
        reader.push(Issue::new(slug::RIG_BLOCKS, path, message));
    };
    let [at_kinds, at_places] = ["kinds", "places"].map(str::to_owned);
    for (i, kind) in kinds.iter().enumerate() {
        if kinds.iter().take(i).any(|k| k.id == kind.id) {
            say(format!("{at_kinds}[{i}].id"), "two kinds of one name");
        }
    }
    for (i, (a, b)) in places.iter().zip(places.iter().skip(1)).enumerate() {
        if b.from.value < a.to.value {
            say(format!("{at_places}[{}].from", i + 1), "places that overlap, or are not in order");
        }
    }
    if kinds.is_empty() {
        say(at_kinds.clone(), "no kind of block");
    }
    if places.is_empty() {
        say(at_places, "no place for blocks");
    }
    let units: u64 = kinds.iter().map(|k| u64::from(k.number)).sum();
    if kinds.len().saturating_mul(places.len()) > MOST_GROUPS || units > u64::from(MOST_UNITS) {
        say(
            at_kinds,
            "more kinds, places or units than are searched: 12 kinds times places, 200 units",
        );
    }
}

crate::answer! {
    /// All units of one kind in one place.
    pub struct Placed {
        /// The kind.
        kind: String,
        /// How many units.
        number: u32,
        /// In how many columns, from the left.
        columns: u32,
        /// How many stand on each other in a full column.
        layers: u32,
        /// Left edge from the left end of the member under test.
        from: Length,
        /// Right edge.
        to: Length,
        /// Their weight.
        force: Force,
        /// Where it acts.
        at: Length,
    }
}

crate::answer! {
    /// One layout of blocks.
    pub struct BlockLayout {
        /// Its groups from left to right.
        groups: Vec<Placed>,
    }
}

crate::answer! {
    /// The blocks that hold the reaction member with the fewest lifts.
    pub struct Placement {
        /// How many lifts.
        lifts: u32,
        /// All of their weight.
        weight: Force,
        /// How many layouts have as few lifts and as little weight.
        ties: usize,
        /// The first twenty of them; the first one is built and checked.
        layouts: Vec<BlockLayout>,
    }
}

/// What the blocks are asked to bring, in places from the left bearing.
pub(super) struct Wanted<'a> {
    pub(super) span: Length,
    pub(super) own: LineLoad,
    /// Place and size of what pulls.
    pub(super) lines: &'a [(Length, Force)],
    /// What stands there already.
    pub(super) weights: &'a [(Length, Force)],
    pub(super) hogging: Moment,
    pub(super) factor: f64,
    /// The left bearing from the left end of the member under test.
    pub(super) origin: Length,
}

/// What one unit of force at a place brings: a share of a bearing, or a moment under a jack.
#[derive(Clone, Copy)]
enum Brings {
    Left,
    Right,
    Under(f64),
    /// Both bearings together: no more than the two ask, but it cuts the search where each of them
    /// counts on the best place for itself.
    Both,
}

impl Brings {
    fn of(self, z: f64, l: f64) -> f64 {
        match self {
            Self::Left => (l - z) / l,
            Self::Right => z / l,
            Self::Both => 1.0,
            Self::Under(x) if z >= x => x * (l - z) / l,
            Self::Under(x) => z * (l - x) / l,
        }
    }

    /// The most of it between two places.
    fn most(self, a: f64, b: f64, l: f64) -> f64 {
        let ends = self.of(a, l).max(self.of(b, l));
        match self {
            Self::Under(x) if x > a && x < b => ends.max(self.of(x, l)),
            _ => ends,
        }
    }
}

/// One kind in one place.
struct Slot {
    place: usize,
    kind: usize,
    weight: f64,
    length: f64,
    layers: u32,
    /// The most of every want that one unit can bring here.
    most: Vec<f64>,
}

struct Search {
    span: f64,
    wants: Vec<(Brings, f64)>,
    slots: Vec<Slot>,
    /// Left and right edge of every place, from the left bearing.
    places: Vec<(f64, f64)>,
    at_hand: Vec<u32>,
    /// For the slots from a number on, and every want: what one unit of each kind brings in the best of
    /// them, the best kind first.
    best: Vec<Vec<Vec<(f64, usize)>>>,
    found: Option<(f64, usize, Vec<Layout>)>,
    visited: u64,
}

/// Slot and number of every group, from left to right, with its left edge.
type Layout = Vec<(usize, u32, f64)>;

/// Ties that are listed (what a crew can look through).
const LISTED: usize = 20;

/// The blocks that hold down both bearings and keep the hogging allowed with the fewest lifts;
/// nothing where all of them do not.
///
/// # Errors
/// `source.interrupted`.
pub(super) fn placed(blocks: &Blocks, wanted: &Wanted<'_>) -> Result<Option<Placement>, Error> {
    let mut search = Search::of(blocks, wanted);
    let total: u32 = search.at_hand.iter().sum();
    let mut lifts = 0;
    while lifts <= total {
        if search.reachable(&[], lifts) {
            let mut chosen = vec![0; search.slots.len()];
            search.choose(0, lifts, &mut chosen)?;
            if search.found.is_some() {
                break;
            }
        }
        lifts += 1;
    }
    let origin = wanted.origin;
    Ok(search.found.take().map(|(weight, ties, layouts)| Placement {
        lifts,
        weight: Force::from_si(weight),
        ties,
        layouts: layouts
            .iter()
            .map(|l| BlockLayout {
                groups: l.iter().filter_map(|g| search.group(blocks, g, origin)).collect(),
            })
            .collect(),
    }))
}

fn best(slots: &[Slot], wants: usize, kinds: usize) -> Vec<Vec<Vec<(f64, usize)>>> {
    let of = |from: usize, want: usize| {
        let one = |kind: usize| {
            let open = slots.iter().skip(from).filter(|s| s.kind == kind);
            let most = open.map(|s| s.most.get(want).copied().unwrap_or(0.0)).reduce(f64::max);
            most.map(|value| (value, kind))
        };
        let mut all: Vec<(f64, usize)> = (0..kinds).filter_map(one).collect();
        all.sort_by(|a, b| b.0.total_cmp(&a.0));
        all
    };
    (0..=slots.len()).map(|from| (0..wants).map(|w| of(from, w)).collect()).collect()
}

impl Search {
    fn of(blocks: &Blocks, wanted: &Wanted<'_>) -> Self {
        let statics = Statics {
            span: wanted.span,
            weight: wanted.own,
            lines: wanted.lines,
            hogging: wanted.hogging,
        };
        let l = wanted.span.si();
        let (left, right) = statics.uplift();
        let there = |b: Brings| -> f64 {
            wanted.weights.iter().map(|(z, c)| c.si() * b.of(z.si(), l)).sum()
        };
        let own = (wanted.own * wanted.span / 2.0).si();
        let bearing = |uplift: Force, b: Brings| (b, uplift.si() * wanted.factor - own - there(b));
        let mut wants = vec![bearing(left, Brings::Left), bearing(right, Brings::Right)];
        for (x, _) in wanted.lines {
            let b = Brings::Under(x.si());
            let (jacks, own) = statics.at_section(*x);
            wants.push((b, (jacks - own - wanted.hogging).si() - there(b)));
        }
        // what is there already is not asked for
        let scale = (left + right).si().max(own);
        wants.retain(|(b, need)| {
            let size = if matches!(b, Brings::Under(_)) { scale * l } else { scale };
            *need > size * 1e-9
        });
        if let [(Brings::Left, a), (Brings::Right, b), ..] = wants.as_slice() {
            let both = a + b;
            wants.push((Brings::Both, both));
        }
        let origin = wanted.origin;
        let places: Vec<(f64, f64)> = blocks
            .places
            .iter()
            .map(|p| ((p.from.value - origin).si(), (p.to.value - origin).si()))
            .collect();
        let mut slots = Vec::new();
        for (place, (p, (from, to))) in blocks.places.iter().zip(&places).enumerate() {
            for (kind, k) in blocks.kinds.iter().enumerate() {
                let (weight, length) = (k.weight.value.si(), k.length.value.si());
                let carries = p.carries.value.si() * length * k.width.value.si() / weight;
                let layers = (carries * (1.0 + 1e-9)).floor().min(f64::from(k.layers));
                if layers < 1.0 || length > (to - from) * (1.0 + 1e-9) {
                    continue;
                }
                let (a, b) = (from + length / 2.0, (to - length / 2.0).max(from + length / 2.0));
                let most = wants.iter().map(|w| w.0.most(a, b, l) * weight).collect();
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "1 to 20"
                )]
                let layers = layers as u32;
                slots.push(Slot { place, kind, weight, length, layers, most });
            }
        }
        let at_hand = blocks.kinds.iter().map(|k| k.number).collect();
        let best = best(&slots, wants.len(), blocks.kinds.len());
        Self { span: l, wants, slots, places, at_hand, best, found: None, visited: 0 }
    }

    /// What is left of every kind after the slots that are settled.
    fn left(&self, settled: &[u32]) -> SmallVec<[u32; 12]> {
        let mut left: SmallVec<[u32; 12]> = self.at_hand.as_slice().into();
        for (n, slot) in settled.iter().zip(&self.slots) {
            if let Some(kind) = left.get_mut(slot.kind) {
                *kind = kind.saturating_sub(*n);
            }
        }
        left
    }

    /// Whether so many more units, each where it brings most, could bring what is wanted.
    fn reachable(&self, settled: &[u32], more: u32) -> bool {
        let left = self.left(settled);
        let open = self.best.get(settled.len()).map_or(&[][..], |b| b.as_slice());
        self.wants.iter().zip(open).enumerate().all(|(w, ((_, need), best))| {
            let most = |s: &Slot| s.most.get(w).copied().unwrap_or(0.0);
            let mut all: f64 =
                settled.iter().zip(&self.slots).map(|(n, s)| f64::from(*n) * most(s)).sum();
            let mut more = more;
            for (value, kind) in best {
                let n = left.get(*kind).copied().unwrap_or(0).min(more);
                all += f64::from(n) * value;
                more -= n;
            }
            more == 0 && all >= need * (1.0 - 1e-9)
        }) && (!self.wants.is_empty() || more == 0)
    }

    fn choose(&mut self, slot: usize, more: u32, chosen: &mut Vec<u32>) -> Result<(), Error> {
        self.visited += 1;
        if self.visited.is_multiple_of(65_536) {
            crate::error::go_on()?;
        }
        let settled = chosen.get(..slot).unwrap_or(&[]);
        let Some((kind, lightest)) = self.slots.get(slot).map(|s| {
            let rest = self.slots.iter().skip(slot).map(|s| s.weight);
            (s.kind, rest.fold(f64::INFINITY, f64::min))
        }) else {
            if more == 0 {
                self.order(&chosen.clone());
            }
            return Ok(());
        };
        if !self.reachable(settled, more) {
            return Ok(());
        }
        let weight: f64 =
            settled.iter().zip(&self.slots).map(|(n, s)| f64::from(*n) * s.weight).sum();
        let bound = weight + f64::from(more) * if more > 0 { lightest } else { 0.0 };
        if self.found.as_ref().is_some_and(|f| bound > f.0 * (1.0 + 1e-12)) {
            return Ok(());
        }
        let most = self.left(settled).get(kind).copied().unwrap_or(0).min(more);
        for n in 0..=most {
            if let Some(here) = chosen.get_mut(slot) {
                *here = n;
            }
            self.choose(slot + 1, more - n, chosen)?;
        }
        if let Some(here) = chosen.get_mut(slot) {
            *here = 0;
        }
        Ok(())
    }

    /// Every order of the groups in their places.
    fn order(&mut self, chosen: &[u32]) {
        let weight: f64 =
            chosen.iter().zip(&self.slots).map(|(n, s)| f64::from(*n) * s.weight).sum();
        if self.found.as_ref().is_some_and(|f| weight > f.0 * (1.0 + 1e-12)) {
            return;
        }
        let mut rows: Vec<Vec<Vec<usize>>> = Vec::with_capacity(self.places.len());
        for (place, (from, to)) in self.places.iter().enumerate() {
            let groups: Vec<usize> = chosen
                .iter()
                .zip(&self.slots)
                .enumerate()
                .filter(|(_, (n, s))| **n > 0 && s.place == place)
                .map(|(i, _)| i)
                .collect();
            let long = |i: &usize| -> f64 {
                let (Some(s), Some(n)) = (self.slots.get(*i), chosen.get(*i)) else { return 0.0 };
                f64::from(n.div_ceil(s.layers)) * s.length
            };
            if groups.iter().map(long).sum::<f64>() > (to - from) * (1.0 + 1e-9) {
                return;
            }
            rows.push(permutations(&groups));
        }
        let brought = vec![0.0; self.wants.len()];
        self.rows(&rows, 0, chosen, &mut Vec::new(), &brought, weight);
    }

    fn rows(
        &mut self,
        rows: &[Vec<Vec<usize>>],
        place: usize,
        chosen: &[u32],
        layout: &mut Layout,
        brought: &[f64],
        weight: f64,
    ) {
        let Some(orders) = rows.get(place) else {
            let holds =
                self.wants.iter().zip(brought).all(|((_, need), b)| *b >= need * (1.0 - 1e-9));
            if holds {
                self.keep(weight, layout);
            }
            return;
        };
        for order in orders {
            let before = layout.len();
            let mut here = brought.to_vec();
            let mut edge = self.places.get(place).map_or(0.0, |p| p.0);
            for i in order {
                let (Some(s), Some(n)) = (self.slots.get(*i), chosen.get(*i).copied()) else {
                    continue;
                };
                layout.push((*i, n, edge));
                for (z, force) in columns(s, n, edge) {
                    for ((b, _), sum) in self.wants.iter().zip(here.iter_mut()) {
                        *sum += force * b.of(z, self.span);
                    }
                }
                edge += f64::from(n.div_ceil(s.layers)) * s.length;
            }
            self.rows(rows, place + 1, chosen, layout, &here, weight);
            layout.truncate(before);
        }
    }

    fn keep(&mut self, weight: f64, layout: &Layout) {
        let better = self.found.as_ref().is_none_or(|f| weight < f.0 * (1.0 - 1e-12));
        if better {
            self.found = Some((weight, 0, Vec::new()));
        }
        if let Some((_, ties, layouts)) = &mut self.found {
            *ties += 1;
            if layouts.len() < LISTED {
                layouts.push(layout.clone());
            }
        }
    }

    fn group(
        &self,
        blocks: &Blocks,
        (slot, n, edge): &(usize, u32, f64),
        origin: Length,
    ) -> Option<Placed> {
        let s = self.slots.get(*slot)?;
        let columns_used = n.div_ceil(s.layers);
        let (force, moment) =
            columns(s, *n, *edge).fold((0.0, 0.0), |(f, m), (z, p)| (f + p, m + p * z));
        let at = |x: f64| origin + Length::from_si(x);
        Some(Placed {
            kind: blocks.kinds.get(s.kind)?.id.clone(),
            number: *n,
            columns: columns_used,
            layers: s.layers.min(*n),
            from: at(*edge),
            to: at(edge + f64::from(columns_used) * s.length),
            force: Force::from_si(force),
            at: at(moment / force),
        })
    }
}

/// Every column of a group as two halves, each at its own middle: outside a column and at its middle
/// that is what a column brings which stands on all of its length.
fn columns(slot: &Slot, number: u32, edge: f64) -> impl Iterator<Item = (f64, f64)> + use<> {
    let (layers, weight, length) = (slot.layers, slot.weight, slot.length);
    (0..number.div_ceil(layers)).flat_map(move |c| {
        let here = layers.min(number - c * layers);
        let half = f64::from(here) * weight / 2.0;
        let left = edge + f64::from(c) * length;
        [(left + length / 4.0, half), (left + length * 0.75, half)]
    })
}

/// Places and forces of a layout that was found, as they load the reaction member: from the left
/// bearing.
pub(super) fn loads(blocks: &Blocks, layout: &BlockLayout, origin: Length) -> Vec<(Length, Force)> {
    let mut all = Vec::new();
    for group in &layout.groups {
        let Some(kind) = blocks.kinds.iter().find(|k| k.id == group.kind) else { continue };
        let slot = Slot {
            place: 0,
            kind: 0,
            weight: kind.weight.value.si(),
            length: kind.length.value.si(),
            layers: group.layers.max(1),
            most: Vec::new(),
        };
        let halves = columns(&slot, group.number, (group.from - origin).si());
        all.extend(halves.map(|(z, p)| (Length::from_si(z), Force::from_si(p))));
    }
    all
}

fn permutations(items: &[usize]) -> Vec<Vec<usize>> {
    let Some((first, rest)) = items.split_first() else { return vec![Vec::new()] };
    let mut all = Vec::new();
    for row in permutations(rest) {
        for at in 0..=row.len() {
            let mut longer = row.clone();
            longer.insert(at, *first);
            all.push(longer);
        }
    }
    all
}

/// Whole blocks under a reaction member of one span without a document: places count from its left
/// bearing, `lines` are what pulls, `hogging` what its top face carries.
///
/// # Errors
/// What the rules of the blocks refuse; `source.interrupted`.
pub fn place_blocks(
    blocks: &Blocks,
    (span, own): (Length, LineLoad),
    lines: &[(Length, Force)],
    hogging: Moment,
    factor: f64,
) -> Result<Option<Placement>, Error> {
    crate::source::validate_named("blocks", blocks)?;
    let origin = Length::ZERO;
    placed(blocks, &Wanted { span, own, lines, weights: &[], hogging, factor, origin })
}
