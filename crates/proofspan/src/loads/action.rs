//! The actions as a document describes them.

use super::snow::SnowLevel;
use crate::error::{Issue, slug};
use crate::source::{Given, Input, Reader};
use crate::units::{AreaLoad, Force, Length, LineLoad, Ratio, Said};

crate::choice! {
    /// The action, by its name in the trade and its symbol in edition files.
    pub enum Symbol ("action", source::SOURCE_CHOICE) {
        /// Dw: the structure's own weight.
        SelfWeight = "self_weight",
        /// Ds: superimposed dead load: finishes, partitions, services.
        SuperimposedDead = "superimposed_dead",
        /// L: live load of a floor.
        Live = "live",
        /// Lr: live load of a roof.
        RoofLive = "roof_live",
        /// S: snow.
        Snow = "snow",
        /// R: rain; ponding is not in it.
        Rain = "rain",
        /// Q: imposed load, where a code speaks of one only.
        Imposed = "imposed",
        /// F: a fluid of known depth.
        Fluid = "fluid",
        /// H: earth pressure.
        Soil = "soil",
        /// W: wind, which is in no set of test loads.
        Wind = "wind",
    }
}

impl Symbol {
    /// The symbol in edition files and formulas.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::SelfWeight => "Dw",
            Self::SuperimposedDead => "Ds",
            Self::Live => "L",
            Self::RoofLive => "Lr",
            Self::Snow => "S",
            Self::Rain => "R",
            Self::Imposed => "Q",
            Self::Fluid => "F",
            Self::Soil => "H",
            Self::Wind => "W",
        }
    }

    /// The action with this symbol.
    #[must_use]
    pub fn of(symbol: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|s| s.symbol() == symbol)
    }

    /// Whether it may stand on some spans and not on others: live load, not snow or rain.
    #[must_use]
    pub const fn varies(self) -> bool {
        matches!(self, Self::Live | Self::RoofLive | Self::Imposed)
    }

    /// Whether the action is always there once it is there.
    #[must_use]
    pub const fn permanent(self) -> bool {
        matches!(self, Self::SelfWeight | Self::SuperimposedDead)
    }
}

crate::rule! {
    /// A tributary width: one centimetre to a hundred metres (library rule).
    pub Width { above 0.0 LOADS_WIDTH, least 0.01 SOURCE_MAGNITUDE, most 100.0 SOURCE_MAGNITUDE }
    /// A size of an action, down: one below zero would relieve the member.
    pub Acting { least 0.0 LOADS_NEGATIVE }
    /// A place on the member, from its left end.
    pub LoadPlace { least 0.0 LOADS_EXTENT }
    /// The part of an action that is already in place.
    pub InPlaceShare { least 0.0 LOADS_IN_PLACE_MISSING, most 1.0 LOADS_DEDUCTION_TOO_BIG }
}

crate::record! {
    /// A load that falls linearly from a peak to zero.
    pub struct Taper {
        /// Intensity at the peak.
        peak: Given<AreaLoad, Acting>,
        /// Place of the peak.
        at: Given<Length, LoadPlace>,
        /// Place where it is zero.
        zero_at: Given<Length, LoadPlace> => LOADS_TAPER_END_UNKNOWN "which side falls to zero, and where?",
    }
    rules { taper_ends[at, zero_at]; }
}

fn taper_ends(reader: &mut Reader, at: &Input<Length>, zero_at: &Input<Length>) {
    if (zero_at.value - at.value).abs() <= Length::ZERO {
        let path = reader.path_of("zero_at");
        reader.push(
            Issue::new(slug::LOADS_TAPER_END_UNKNOWN, path, "the taper has no length")
                .value(zero_at.said()),
        );
    }
}

crate::record! {
    /// A concentrated action.
    pub struct PointAction {
        /// Down positive, per member unit.
        force: Given<Force, Acting>,
        /// Its place.
        at: Given<Length, LoadPlace>,
    }
}

crate::choice! {
    /// What decides whether a code lets the live load of a roof-led combination be reduced.
    pub enum Occupancy ("occupancy", source::SOURCE_CHOICE) {
        /// A garage.
        Parking = "parking",
        /// Public assembly.
        PublicAssembly = "public_assembly",
        /// Neither.
        Other = "other",
    }
}

crate::record! {
    /// One action. Exactly one of `area`, `line`, `taper` and `point` is given.
    pub struct Action {
        /// Which action.
        action: Symbol,
        /// Over the tributary width.
        area: Option<Given<AreaLoad, Acting>>,
        /// Along the member, per member unit.
        line: Option<Given<LineLoad, Acting>>,
        /// Falling linearly, over the tributary width.
        taper: Option<Taper>,
        /// Concentrated, per member unit.
        point: Option<PointAction>,
        /// Left edge, where it does not begin at the left end.
        from: Option<Given<Length, LoadPlace>>,
        /// Right edge, where it does not reach the right end.
        to: Option<Given<Length, LoadPlace>>,
        /// Tributary width of this action, where it differs.
        width: Option<Given<Length, Width>>,
        /// The part that is already in place: 1 all, 0 nothing. Dead load must say it.
        in_place: Option<Given<Ratio, InPlaceShare>>,
        /// What the floor is used for, for live load.
        occupancy: Option<Occupancy>,
        /// Whether a snow load is nominal or at strength level.
        snow_level: Option<SnowLevel>,
        /// Whether it is taken off before the test: finishes, soil, planters, ballast. It then is
        /// not in place, and the member goes through a stage without it.
        taken_off: bool = false,
    }
    rules {
        one_shape[area, line, taper, point];
        said_in_place[action, in_place];
        not_wind[action];
        off_is_not_there[in_place, taken_off];
        heard[area, line, taper, point, from, to, width];
        words_of_their_own[action, occupancy, snow_level];
    }
}

/// Ends and a width count of a load that has none of its own.
#[expect(clippy::too_many_arguments, reason = "every shape of an action is looked at")]
fn heard(
    reader: &mut Reader,
    area: &Option<Given<AreaLoad, Acting>>,
    line: &Option<Given<LineLoad, Acting>>,
    taper: &Option<Taper>,
    point: &Option<PointAction>,
    from: &Option<Given<Length, LoadPlace>>,
    to: &Option<Given<Length, LoadPlace>>,
    width: &Option<Given<Length, Width>>,
) {
    let along = area.is_some() || line.is_some();
    let across = area.is_some() || taper.is_some();
    let shape = if point.is_some() { "a point has" } else { "a load that tapers has" };
    let mut unheard = |name: &str, said: Said, why: String| {
        let path = reader.path_of(name);
        reader.push(Issue::new(slug::LOADS_SHAPE, path, why).value(said).remedy("leave it out"));
    };
    for (name, end) in [("from", from), ("to", to)] {
        if let Some(end) = end.as_ref().filter(|_| !along) {
            unheard(name, end.said(), format!("{shape} a place of its own"));
        }
    }
    if let Some(width) = width.as_ref().filter(|_| !across) {
        let why = "a load along the member, or a point, has no width".to_owned();
        unheard("width", width.said(), why);
    }
}

/// The use of a floor is a matter of its live load, the level one of snow.
fn words_of_their_own(
    reader: &mut Reader,
    action: &Symbol,
    occupancy: &Option<Occupancy>,
    snow_level: &Option<SnowLevel>,
) {
    let live = matches!(action, Symbol::Live | Symbol::RoofLive | Symbol::Imposed);
    let mut unheard = |name: &str, why: &'static str| {
        let path = reader.path_of(name);
        let issue = Issue::new(slug::LOADS_SHAPE, path, why);
        reader.push(issue.value(action.to_string()).remedy("leave it out"));
    };
    if occupancy.is_some() && !live {
        unheard("occupancy", "the use of a floor is said of its live load");
    }
    if snow_level.is_some() && *action != Symbol::Snow {
        unheard("snow_level", "a level of snow is said of snow");
    }
}

fn one_shape(
    reader: &mut Reader,
    area: &Option<Given<AreaLoad, Acting>>,
    line: &Option<Given<LineLoad, Acting>>,
    taper: &Option<Taper>,
    point: &Option<PointAction>,
) {
    let given = usize::from(area.is_some())
        + usize::from(line.is_some())
        + usize::from(taper.is_some())
        + usize::from(point.is_some());
    if given != 1 {
        let path = reader.path().to_owned();
        reader.push(
            Issue::new(
                slug::LOADS_SHAPE,
                path,
                format!("{given} of area, line, taper and point are given"),
            )
            .limit("exactly one"),
        );
    }
}

fn said_in_place(
    reader: &mut Reader,
    action: &Symbol,
    in_place: &Option<Given<Ratio, InPlaceShare>>,
) {
    if in_place.is_none() && action.permanent() {
        let path = reader.path_of("in_place");
        reader.push(
            Issue::new(
                slug::LOADS_IN_PLACE_MISSING,
                path,
                format!("is the {action} already in place?"),
            )
            .limit("0 to 1"),
        );
    }
}

fn not_wind(reader: &mut Reader, action: &Symbol) {
    if *action == Symbol::Wind {
        let path = reader.path_of("action");
        reader.push(Issue::new(slug::LOADS_WIND, path, "no set of test loads holds wind"));
    }
}

fn off_is_not_there(
    reader: &mut Reader,
    in_place: &Option<Given<Ratio, InPlaceShare>>,
    taken_off: &bool,
) {
    if *taken_off && let Some(share) = in_place.as_ref().filter(|s| s.high() > Ratio::ZERO) {
        let path = reader.path_of("in_place");
        reader.push(
            Issue::new(
                slug::LOADS_DEDUCTION_TOO_BIG,
                path,
                "what is taken off before the test is not in place during it",
            )
            .value(share.said())
            .limit("0"),
        );
    }
}

impl Action {
    pub(super) fn is_above_zero(&self) -> bool {
        self.area.as_ref().is_some_and(|q| q.value > AreaLoad::ZERO)
            || self.line.as_ref().is_some_and(|q| q.value > LineLoad::ZERO)
            || self.taper.as_ref().is_some_and(|t| t.peak.value > AreaLoad::ZERO)
            || self.point.as_ref().is_some_and(|p| p.force.value > Force::ZERO)
    }

    /// The part that is in place.
    #[must_use]
    pub fn share_in_place(&self) -> f64 {
        self.in_place.as_ref().map_or(0.0, |s| s.value.value())
    }
}
