//! The one table of stable codes: class, gist and remedy of every message.
//!
//! A code is `module.reason`. The table makes the constants of [`slug`], the
//! list in the documentation, the constants of the Python package and the test
//! that every code can be reached.

use core::fmt;

/// What a code means for the work.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub enum Class {
    /// No answer can be computed.
    Error,
    /// An assumption taken or a thing to know; travels into the report.
    Note,
    /// Computed, and a limit is broken.
    Fail,
    /// A state that endangers people: computed first, then the work is refused.
    Stop {
        /// Whether a named person may lift it.
        liftable: bool,
    },
}

impl Class {
    /// The word used in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Note => "note",
            Self::Fail => "fail",
            Self::Stop { liftable: true } => "stop, liftable",
            Self::Stop { liftable: false } => "stop, not liftable",
        }
    }
}

/// One row of the table.
#[derive(PartialEq, Eq, Hash, Debug)]
pub struct Row {
    code: &'static str,
    class: Class,
    gist: &'static str,
    remedy: &'static str,
}

/// A stable code with its class, gist and remedy.
#[derive(Clone, Copy)]
pub struct Slug(&'static Row);

impl Slug {
    /// The code, for example `units.missing`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.0.code
    }

    /// What it means for the work.
    #[must_use]
    pub const fn class(self) -> Class {
        self.0.class
    }

    /// What it says, in a few words.
    #[must_use]
    pub const fn gist(self) -> &'static str {
        self.0.gist
    }

    /// How it is mended, in a few words.
    #[must_use]
    pub const fn remedy(self) -> &'static str {
        self.0.remedy
    }

    /// The module the code belongs to.
    #[must_use]
    pub fn module(self) -> &'static str {
        self.0.code.split_once('.').map_or(self.0.code, |(module, _)| module)
    }

    /// The row with this code.
    #[must_use]
    pub fn of(code: &str) -> Option<Self> {
        Self::all().iter().copied().find(|s| s.code() == code)
    }

    /// Every code, in the order of the table.
    #[must_use]
    pub const fn all() -> &'static [Self] {
        slug::ALL
    }
}

impl PartialEq for Slug {
    fn eq(&self, other: &Self) -> bool {
        self.0.code == other.0.code
    }
}
impl Eq for Slug {}
impl core::hash::Hash for Slug {
    fn hash<H: core::hash::Hasher>(&self, state: &mut H) {
        self.0.code.hash(state);
    }
}
impl fmt::Debug for Slug {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}
impl fmt::Display for Slug {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

macro_rules! class {
    (error) => {
        Class::Error
    };
    (note) => {
        Class::Note
    };
    (fail) => {
        Class::Fail
    };
    (stop) => {
        Class::Stop { liftable: false }
    };
    (liftable) => {
        Class::Stop { liftable: true }
    };
}

macro_rules! slugs {
    ($($name:ident $code:literal $class:ident $gist:literal, $remedy:literal;)*) => {
        /// A constant for every code.
        pub mod slug {
            use super::{Class, Row, Slug};
            $(
                #[doc = concat!("`", $code, "` (", stringify!($class), "): ", $gist, ". Remedy: ", $remedy, ".")]
                pub const $name: Slug = Slug(&Row { code: $code, class: class!($class), gist: $gist, remedy: $remedy });
            )*
            pub(super) const ALL: &[Slug] = &[$($name,)*];
        }
    };
}

slugs! {
    // units
    UNITS_MISSING "units.missing" error "a number without its unit", "write the unit beside the number, like \"45 ft\"";
    UNITS_UNKNOWN "units.unknown" error "no such unit", "use a unit of the list";
    UNITS_DIMENSION "units.dimension" error "a quantity of another kind", "give the quantity that is asked for";
    UNITS_NONFINITE "units.nonfinite" error "not a finite number", "give a finite number";
    UNITS_TEXT_NUMBER "units.text-number" error "a number that cannot be read without guessing", "write digits with a decimal point and no grouping";
    UNITS_ABSOLUTE_ZERO "units.absolute-zero" error "a temperature below absolute zero", "give a temperature above -273.15 °C";
    UNITS_BOOL_AS_NUMBER "units.bool-as-number" error "true or false where a quantity belongs", "write the quantity with its unit";
    UNITS_TEMPERATURE "units.temperature" error "arithmetic that a temperature on a scale has not", "take the difference of two temperatures, or add a temperature change";
    UNITS_ARRAY "units.array" error "an array that is not one row of plain numbers", "give a list or one-dimensional array of finite numbers";
    UNITS_FOREIGN "units.foreign" error "a quantity of another library", "take its number in a known unit, times the unit of proofspan.units";
    UNITS_MIXED_COLUMN "units.mixed-column" error "two units in one column", "convert the column to one unit and name it once";

    // source: reading documents
    SOURCE_SYNTAX "source.syntax" error "the text is not valid JSON or TOML", "mend the text at the named place";
    SOURCE_FIELD_MISSING "source.field-missing" error "a required field is missing", "add the field";
    SOURCE_FIELD_UNKNOWN "source.field-unknown" error "no such field", "use a field of the schema";
    SOURCE_FIELD_DUPLICATE "source.field-duplicate" error "a field is given twice", "keep one of them";
    SOURCE_TYPE "source.type" error "another type of value is wanted", "write a value of the wanted type";
    SOURCE_CHOICE "source.choice" error "not one of the accepted words", "use one of the listed words";
    SOURCE_CONTRADICTION "source.contradiction" error "arguments that contradict each other", "give one of them";
    SOURCE_DEPTH "source.depth" error "nested deeper than 128", "write a flatter document";
    SOURCE_SIZE "source.size" error "a text, list or document that is too long", "leave out what is not needed";
    SOURCE_MANY "source.many" error "more problems than are listed", "mend those that are listed first";
    SOURCE_INTERRUPTED "source.interrupted" error "interrupted before it came to an end", "let it run, or ask for less";
    SOURCE_VERSION "source.version" error "schema_version is not one this version reads", "write schema_version 1";
    SOURCE_RANGE_UNUSED "source.range-unused" error "a range or an uncertainty where only a value is used", "give the unfavourable end as the value, and why in a note";
    SOURCE_RANGE "source.range" error "a range that does not hold its value", "give low, value and high in order";
    SOURCE_RANGE_ALONE "source.range-alone" error "a range where one value counts", "give the value at the unfavourable end, or design the test: a document counts every end";
    SOURCE_SIGN "source.sign" error "a value that must be positive is not", "give a value above zero";
    SOURCE_NEGATIVE "source.negative" error "a value below zero", "give zero or more";
    SOURCE_SHARE "source.share" error "a share that is not between zero and one", "give the part of the whole, 0 to 1";
    SOURCE_BELOW_ONE "source.below-one" error "a factor below one where one only raises", "give 1 or more";
    SOURCE_MAGNITUDE "source.magnitude" error "a value of a size that it cannot have", "look at the unit and the number";

    // verdict: overrides
    VERDICT_OVERRIDE_INCOMPLETE "verdict.override-incomplete" error "an override that is not complete", "give role, name, reason, measure, date, second signature and the fingerprint of the design";
    VERDICT_OVERRIDE_DATE "verdict.override-date" error "an override of a day on which it cannot have been made", "give the day of the decision: after the survey, not after the test, not ten years from either";
    VERDICT_OVERRIDE_REFUSED "verdict.override-refused" error "an override of a stop that cannot be lifted or is not there", "mend the cause of the stop";
    VERDICT_RANGE_DECIDES "verdict.range-decides" note "a check whose answer depends on where inputs lie in their ranges", "measure the inputs that are named, or design for their worse end";
    VERDICT_RANGE_CUT "verdict.range-cut" note "twice the uncertainty of an input reaches beyond what it can be", "state the range, or a smaller uncertainty";
    VERDICT_RANGE_CORNERS "verdict.range-corners" note "too many ranges to try every combination", "settle those that matter little";
    VERDICT_OVERRIDE_LAPSED "verdict.override-lapsed" note "an override that was made on another design", "decide again on this design";

    // criteria
    CRITERIA_NOT_MET "criteria.not-met" fail "a criterion of the edition is not met", "see what the edition allows: evaluation, retest, lower rating";
    CRITERIA_DISTRESS "criteria.distress" fail "visible distress", "close the zone, keep the catch, have it evaluated; no retest";
    CRITERIA_NO_GAUGE "criteria.no-gauge" error "no gauge of deflection was read", "map at least one channel of role deflection";
    CRITERIA_RESIDUAL_ABOVE_MAX "criteria.residual-above-max" error "a residual larger than the largest deflection", "look at zero, sign and reference of the gauge";
    CRITERIA_RESIDUAL_MISSING "criteria.residual-missing" note "the residual was not read", "read it at the edition's time, or repeat the test";
    CRITERIA_RESIDUAL_NEGATIVE "criteria.residual-negative" note "a residual below zero by more than its uncertainty", "correct the drift, or look at the sign";
    CRITERIA_NOT_INSPECTED "criteria.not-inspected" note "distress was not looked for", "inspect the member and sign";
    CRITERIA_NOT_MEANINGFUL "criteria.not-meaningful" note "a deflection too small to discriminate", "take better gauges, or a criterion that fits";
    CRITERIA_FAR_FROM_PREDICTED "criteria.far-from-predicted" note "a deflection far from both predictions", "look at unit, sign, column and place of the channel";
    CRITERIA_SCALED "criteria.scaled" note "a deflection limit compared in proportion", "see the factor";
    CRITERIA_FORCE_UNKNOWN "criteria.force-unknown" note "no force of record", "give the part of the target that was reached";
    CRITERIA_HOLD_UNKNOWN "criteria.hold-unknown" note "no hold on record", "say how long the full load was held";
    CRITERIA_RESIDUAL_TIME "criteria.residual-time" note "the residual was not read at the edition's time", "read it at that time, or repeat the test";
    CRITERIA_READERS "criteria.readers" error "two readings of one gauge by one person", "give the roles of the two people who read it";
    CRITERIA_READ_TWICE "criteria.read-twice" note "two people read one gauge differently", "find out which of them is right before the judgement is relied on";
    CRITERIA_MAP_SETTING "criteria.map-setting" note "a setting of the map of the log that can decide", "see its value, and who stands for it";
    CRITERIA_STEPS "criteria.steps" note "the load did not come on in the increments that the edition asks for", "see the rests of the force; say why";
    CRITERIA_OVERLOAD "criteria.overload" note "the member saw more than the test load", "judge it for the load that was on";
    CRITERIA_ZERO "criteria.zero" note "the zero is not one", "give a window before the first increment, with nothing on but what the layout states at zero";
    CRITERIA_LOAD "criteria.load" note "the load was not that of the target", "see the load reached; state the band if another one holds";
    CRITERIA_LARGEST "criteria.largest" note "a gauge showed more at another time of the load stage than in the peak window", "see when; of both the less favourable one counts";
    CRITERIA_UNSIGNED "criteria.unsigned" error "what the log cannot tell is stated by nobody", "give as `stated_by` the role of the person who states it";
    CRITERIA_HOLD "criteria.hold" note "the full load was not held as long as the edition asks", "see the stretches and what interrupted them";
    CRITERIA_STIFFER "criteria.stiffer" note "a load cycle stiffer than the first", "look at seating, friction and what the rig touches";
    CRITERIA_STATED_DIFFERS "criteria.stated-differs" note "what a person stated differs from what the log shows", "the log decides; mend the record";
    CRITERIA_GAUGE_DEAD "criteria.gauge-dead" note "a gauge that read nothing at a moment that decides", "repeat the test, or leave the gauge out of the log with a reason";
    CRITERIA_STOP_EXCEEDED "criteria.stop-exceeded" note "a rule that stops or pauses a test was broken", "say what was done then, and explain the reading";
    CRITERIA_STILL_MOVING "criteria.still-moving" note "a gauge still moved while the residual was read", "read on until it is still";
    CRITERIA_TEMPERATURE_UNKNOWN "criteria.temperature-unknown" note "what temperature did to the readings is not known", "log the temperature, and state the drift of the gauges";
    CRITERIA_CHANNEL_UNUSED "criteria.channel-unused" note "a channel that is logged and enters no correction", "log what it lacks to be used, or take it as a remark";
    CRITERIA_SETTLEMENT_UNKNOWN "criteria.settlement-unknown" note "what the supports did to the readings is not known", "log the movement of the bearing on either side of the gauge";
    CRITERIA_STATED "criteria.stated" error "a stated value that no criterion can use", "use a name of the edition's criteria, with one value of its kind";
    CRITERIA_DECISION "criteria.decision" error "a decision about a fault that cannot be used", "name channel and fault as the log has them, with role and reason";
    CRITERIA_STAGE_UNREAD "criteria.stage-unread" note "a stage that the log does not hold", "give its moments under `stages` of the log map, or test it";
    CRITERIA_FAULT_OPEN "criteria.fault-open" note "a fault of the log can move the verdict", "list a signed decision about it in the record: leave_out, correct or accept";
    CRITERIA_FAULT_DECIDED "criteria.fault-decided" note "a fault of the log was decided about", "see who decided and why";
    CRITERIA_DATE "criteria.date" error "a date that cannot be read", "write year-month-day, for example 2036-06-11";
    CRITERIA_OBSERVED_EARLY "criteria.observed-early" error "an observation dated before the full load was on", "give the day on which somebody looked, after the load had been on";
    CRITERIA_EXPIRY_PAST "criteria.expiry-past" error "a verdict that expires before the day of the test", "give a date on or after the last day of the test";
    CRITERIA_EXPIRY_MISSING "criteria.expiry-missing" error "a verdict without an expiry date", "give the date until which it may be relied on";
    CRITERIA_RETEST "criteria.retest" note "the edition allows a retest", "see the clause";
    CRITERIA_IMPOSED_ONLY "criteria.imposed-only" note "deflections count under the imposed load only", "bring on missing dead load before the zero reading";

    // uncertainty
    UNCERTAINTY_MISSING "uncertainty.missing" note "no uncertainty is stated", "state the standard uncertainty of the readings";
    UNCERTAINTY_NUMBER "uncertainty.number" error "a number that no uncertainty or probability has", "give numbers of one unit; a risk lies between 0 and 1";
    UNCERTAINTY_LIMITS "uncertainty.limits" error "limits that no value keeps", "give a lower limit, an upper limit, or a lower one below the upper one";
    UNCERTAINTY_ZERO "uncertainty.zero" error "an uncertainty of zero", "give the standard uncertainty, or leave it out and say that it is unknown";

    // formula
    FORMULA_SYNTAX "formula.syntax" error "the formula cannot be read", "mend the formula at the named place";
    FORMULA_NAME "formula.name" error "the formula uses a name nobody gives", "use a name of the vocabulary";
    FORMULA_KIND "formula.kind" error "the formula mixes kinds", "bring both sides to one kind";
    FORMULA_SIZE "formula.size" error "the formula is too long", "write it in fewer terms";
    FORMULA_POWER "formula.power" error "a power that no quantity has", "take smaller powers, or strip units with [ ]";
    FORMULA_NO_NUMBER "formula.no-number" error "a part of the formula that is no finite number", "mend the numbers: nothing may be divided by zero or grow beyond bounds";
    FORMULA_DEPTH "formula.depth" error "the formula is nested too deep", "write it in fewer levels";

    // beam
    BEAM_LENGTH_NONPOSITIVE "beam.length-nonpositive" error "a length that is not above zero", "give a length above zero";
    BEAM_RIGIDITY_NONPOSITIVE "beam.rigidity-nonpositive" error "a stiffness that is not above zero", "give modulus and second moment of area above zero";
    BEAM_SPRING_NONPOSITIVE "beam.spring-nonpositive" error "a spring that is not above zero", "give a stiffness above zero, or leave the spring out";
    BEAM_SUPPORT_OUTSIDE "beam.support-outside" error "a support outside the beam", "place the support between the ends";
    BEAM_SUPPORTS_COINCIDE "beam.supports-coincide" error "two supports at one place", "keep one of them";
    BEAM_LOAD_OUTSIDE "beam.load-outside" error "a load outside the beam or reversed", "place the load between the ends, left edge first";
    BEAM_PLACE_OUTSIDE "beam.place-outside" error "a place beyond the member, or a stretch that runs backwards", "give places between the ends, from up to to";
    BEAM_CASES "beam.cases" error "no case, or cases of different beams", "give at least one case, each of this beam";
    BEAM_PATTERN "beam.pattern" error "a pattern that does not fit the spans, or of more spans than are looked at", "give one mark a span; cut a longer line into parts";
    BEAM_INFLUENCE_LOAD "beam.influence-load" error "an imposed movement on an influence line of forces", "ask for the actions of the beam under it";
    BEAM_TOO_MANY "beam.too-many" error "more load cases and places than are solved at once", "solve fewer cases at once, or put loads that act together into one case";
    BEAM_MECHANISM "beam.mechanism" error "the beam is not held", "add the support that is missing";
    BEAM_SETTLEMENT "beam.settlement" error "a settlement where nothing is held", "give it to a support that holds the beam, as a finite length";
    BEAM_HINGE "beam.hinge" error "a hinge where none can be", "place it between the ends, away from supports that hold rotation";
    BEAM_ILL_CONDITIONED "beam.ill-conditioned" error "stiffnesses so different that digits are lost", "leave out what is far stiffer or far softer than its neighbours, or make it rigid or free";
    BEAM_CONTACT "beam.contact" error "bearings that only push find no state", "look at the loads: does the member lift off as a whole?";
    BEAM_MAGNITUDE_MODULUS "beam.magnitude-modulus" error "a modulus of the wrong magnitude", "look at the unit: ksi or psi, GPa or MPa";
    BEAM_CLEAR_SPAN "beam.clear-span" error "a clear span longer than the span", "give the distance between the faces of the supports";
    BEAM_EFFECTIVE_DEPTH "beam.effective-depth" error "an effective depth above the depth", "give the distance of the tension steel from the compressed face";
    BEAM_OVERHANG "beam.overhang" error "kind of beam and overhangs do not agree", "take the kind that fits";
    BEAM_SPANS "beam.spans" error "spans and supports that do not go together", "give the spans of a line, or its supports one by one";
    BEAM_ORDER "beam.order" error "places that do not rise from left to right", "list them from the left end";
    BEAM_STIFF_SOFTER "beam.stiff-softer" error "the stiff prediction is softer than the soft one", "exchange them: stiff is the gross section with the expected modulus";

    // scope
    SCOPE_MEMBER_KIND "scope.member-kind" error "a member that is not covered", "test a beam, joist, strip, stem or cantilever, or take another method";
    SCOPE_MEMBER_UNIT_MISSING "scope.member-unit-missing" error "it is not said per what values are counted", "say per strip, joist, stem, beam or metre";
    SCOPE_MODE_ABSENT "scope.mode-absent" error "a failure mode that no load brings on in its region", "look at the side on which the member is stretched there, and at its supports";
    SCOPE_REGION_OUTSIDE "scope.region-outside" error "the region in doubt reaches beyond the member", "measure it from the left end of the member";
    SCOPE_REGION_REVERSED "scope.region-reversed" error "the region in doubt ends before it begins", "exchange from and to";
    SCOPE_STAGE_REGION "scope.stage-region" error "a stage without a region in doubt", "say which region and failure mode the stage answers for";
    SCOPE_STAGE_NAME "scope.stage-name" error "stages that cannot be told apart", "give each stage a name of its own; the document itself is the stage `first`";
    SCOPE_REGION_OVERLAP "scope.region-overlap" error "two regions in doubt that overlap", "say each stretch once for each failure mode";
    SCOPE_REGION_EMPTY "scope.region-empty" error "the region in doubt has no length", "give the stretch that is in doubt";
    SCOPE_SHARING "scope.sharing" error "a sharing rule without its data", "give the stiffness, shares or width the rule wants";
    SCOPE_NEIGHBOURS "scope.neighbours" note "neighbours that are not loaded take a share of the test load", "load them alike, raise the force, or measure them and deduct their share";
    SCOPE_SHARING_UNSTATED "scope.sharing-unstated" note "it is not said how the neighbours share; the unit is taken as isolated", "state the sharing rule";
    SCOPE_POINTLESS "scope.pointless" note "the condition found makes the test pointless", "repair the bearing or the strengthening first";
    SCOPE_SAW_CUT "scope.saw-cut" note "a saw cut is a structural alteration", "survey tendons and services first; leave the member whole where neighbours can be loaded alike";
    SCOPE_FINDING "scope.finding" note "a finding of the survey", "look at it before the test";
    SCOPE_SURVEY_MISSING "scope.survey-missing" liftable "no condition survey on record", "survey the member, the reaction member and the floors first";

    // loads
    LOADS_WIDTH "loads.width" error "a tributary width that is not above zero", "give the width that loads one member unit";
    LOADS_SHAPE "loads.shape" error "an action without exactly one shape", "give one of area, line, taper and point";
    LOADS_NEGATIVE "loads.negative" error "an action below zero", "give it as zero or more, down positive";
    LOADS_EXTENT "loads.extent" error "an action beyond the member", "place it between the ends, left edge first";
    LOADS_TAPER_TOO_LONG "loads.taper-too-long" error "a taper longer than the member", "end it at the end of the member and give the value there";
    LOADS_TAPER_END_UNKNOWN "loads.taper-end-unknown" error "a taper without its end", "give zero_at";
    LOADS_IN_PLACE_MISSING "loads.in-place-missing" error "it is not said what is already in place", "give in_place, 0 for nothing and 1 for all";
    LOADS_IN_PLACE_UNKNOWN "loads.in-place-unknown" error "in_place names an action that is not given", "name the actions as they are given";
    LOADS_DEDUCTION_TOO_BIG "loads.deduction-too-big" error "more is deducted than acts", "give a share of at most 1";
    LOADS_BASIS_MISSING "loads.basis-missing" error "a limit without net or total", "say on which basis the limit holds";
    LOADS_SNOW "loads.snow" error "a snow load from inputs that cannot be", "give loads, lengths and factors above zero";
    LOADS_SNOW_LEVEL "loads.snow-level" error "snow at strength level where factors expect a nominal one", "divide it by 1.6 and say nominal, or take an edition that refers to its own loading standard";
    LOADS_SNOW_LEVEL_UNSTATED "loads.snow-level-unstated" note "a snow load that does not say whether it is nominal", "say snow_level: nominal or strength";
    LOADS_TAKEN_OFF "loads.taken-off" note "dead load that is taken off before the test", "watch camber, top cracking and prestress of the unloaded member as a stage of its own";
    LOADS_PONDING_COUPLED "loads.ponding-coupled" error "ponding that only a coupled solution describes", "use the coupled solution";
    LOADS_PONDING_UNSTABLE "loads.ponding-unstable" error "a member that collects water without end", "drain it, stiffen it, or raise it";
    LOADS_PONDING_PIECES "loads.ponding-pieces" error "too few or too many pieces of water", "give 2 pieces or more a stretch, within the limit";
    LOADS_PONDING_BED "loads.ponding-bed" error "a bed of water that is not described along the beam", "give rising places with their static depth";
    LOADS_WIND "loads.wind" error "wind is in no set of test loads", "leave wind out";

    // editions
    EDITIONS_EDITION_UNKNOWN "editions.edition-unknown" error "no edition of this name", "use a shipped edition or a file of your own";
    EDITIONS_SET_UNKNOWN "editions.set-unknown" error "the edition has no set of this name", "use a set of the edition";
    EDITIONS_SET_REFUSED "editions.set-refused" error "a lighter load set that is not earned", "give the facts of its condition, or keep the default set";
    EDITIONS_ACTION_NOT_COVERED "editions.action-not-covered" error "an action without a factor in any combination", "take an edition that covers it, or leave the action out";
    EDITIONS_VALUES_UNKNOWN "editions.values-unknown" error "an edition whose figures are not known", "enter its figures from a bought copy in a file of your own";
    EDITIONS_COMPANION_UNKNOWN "editions.companion-unknown" error "several variable actions and one imposed load", "give the imposed load, or confirm the companion rule";
    EDITIONS_FACTOR "editions.factor" error "a factor that is not above zero, or beyond measure", "give a factor above zero, or a zero with its reason";
    EDITIONS_FILE "editions.file" error "an edition file that does not hold together", "mend the file at the named field";
    EDITIONS_SHIPPED_NAME "editions.shipped-name" error "an edition of one's own under the name of a shipped one", "give it an id and a name of its own";
    EDITIONS_FACTS_CONTRADICT "editions.facts-contradict" error "a fact that contradicts the description", "leave the fact out, or mend the description";
    EDITIONS_SUPERSEDED "editions.superseded" note "the edition is not the current one", "ask which edition is adopted at the place";
    EDITIONS_VALUE_UNCONFIRMED "editions.value-unconfirmed" note "figures not confirmed from a bought copy", "check them before you rely on them";
    EDITIONS_REMARK "editions.remark" note "a remark of the edition file", "see what it says";
    EDITIONS_ADJUSTMENT "editions.adjustment" error "an adjustment of the factor that cannot be", "name adjustments of the edition, each once";
    EDITIONS_IMPACT "editions.impact" error "impact that is missing, or would count twice", "say the impact the edition adds, or leave it out";
    EDITIONS_PROJECT "editions.project" error "factors of a project of one's own that are not complete", "give the rows of factors, who set them, and why";
    EDITIONS_NO_REDUCTION "editions.no-reduction" note "no live load can be reduced here", "leave reduce_live out";

    // target
    TARGET_PATTERNS "target.patterns" note "not every pattern of the live load was tried", "look at the influence lines of the effects in doubt";
    TARGET_NET_NONPOSITIVE "target.net-nonpositive" error "nothing is left to apply; the edition's acceptance is not shown", "look at what is said to be in place, or take another edition";

    // capacity
    CAPACITY_MAGNITUDE_FC "capacity.magnitude-fc" error "a concrete strength of the wrong magnitude", "look at the unit: psi or ksi, MPa";
    CAPACITY_SHAPE "capacity.shape" error "parts of a section that do not fit each other", "look at widths and thicknesses";
    CAPACITY_POLYGON "capacity.polygon" error "an outline that is not a simple polygon with holes inside", "list the corners in order, holes inside and apart";
    CAPACITY_STEEL_OUTSIDE "capacity.steel-outside" error "bars or a tendon outside the section", "give the depth below the top face";
    CAPACITY_COVER "capacity.cover" error "bars or a tendon without cover", "look at depth and diameter";
    CAPACITY_LAYERS_OVERLAP "capacity.layers-overlap" error "bars, ducts or tendons that occupy one place", "look at depths, diameters and areas; bars that lie side by side or in a bundle are one layer at the depth of their centres";
    CAPACITY_STEEL "capacity.steel" error "a steel that is not described", "give strength and strain together";
    CAPACITY_PRESTRESS "capacity.prestress" error "a prestress that is not settled", "give the stress after losses, or that at stressing with its losses";
    CAPACITY_ANCHORAGE "capacity.anchorage" error "lengths of anchorage that do not fit the tendon", "give transfer and development length of a pretensioned tendon";
    CAPACITY_PLACE "capacity.place" error "a place beyond the member, or a stretch that runs backwards", "count from the left end of the member";
    CAPACITY_BLOCK "capacity.block" error "a law of compressed concrete that is not settled", "give `block` with the code `own`, and only there";
    CAPACITY_REDUCTION "capacity.reduction" error "a reduction that reduces nothing", "give the factors of the edition from a copy of it";
    CAPACITY_EQUILIBRIUM "capacity.equilibrium" error "no neutral axis in the section gives equilibrium", "look at steel and axial force: without steel in tension the cracking moment is all there is";
    CAPACITY_ASSUMED "capacity.assumed" note "an assumption of a prediction", "look whether it holds";
    CAPACITY_MEAN_UNSTATED "capacity.mean-unstated" note "a mean strength that is not given: the specified one stands in for it", "give the mean that is expected";
    CAPACITY_DESIGN_MISSING "capacity.design-missing" note "no prediction of the design set: its reductions are not given", "give the factors of the edition from a copy of it";
    CAPACITY_ANCHORED_IN_PART "capacity.anchored-in-part" note "steel that is not fully anchored here", "look further from its end";
    CAPACITY_BEYOND_CORE "capacity.beyond-core" note "a prestress that pulls on the other face by itself", "look at that face in the unloaded member";
    CAPACITY_BEFORE_FULL_LOAD "capacity.before-full-load" note "an expected strength below the test load", "ask whether this test may be made, and catch the member wherever it can fall";
    CAPACITY_MEMBER_UNIT "capacity.member-unit" note "a section that does not fit what loads it: perhaps per another member unit than the loads", "give section, stirrups and loads per the same member unit";
    CAPACITY_UNIT "capacity.unit" error "sections per another member unit than the loads", "give sections, steel and strengthening of one member unit, and name it in `capacity.unit`";
    CAPACITY_NOT_READY "capacity.not-ready" stop "a repair, adhesive, grout or wrap that is not at strength on the day of the test", "test later, or show its strength";
    CAPACITY_BOND_TEST "capacity.bond-test" stop "no test of the bond, or one that falls short", "try the bond before the test";
    CAPACITY_LOCAL_NAME "capacity.local-name" error "a local check without a name of its own, or of a stage that the test does not have", "give each a name, and a stage by its name";
    CAPACITY_LOCAL_OVER "capacity.local-over" stop "what presses, or a bearing, is over a local strength", "spread the force, or stand it elsewhere";
    CAPACITY_CRACKED "capacity.cracked" error "to be kept uncracked, and cracked already", "leave `stay_uncracked` out, or give the scatter and the strength that is known better";
    CAPACITY_FAILS_BY_CRACKING "capacity.fails-by-cracking" note "a member that fails as it cracks: no steel holds it there", "look at bars and tendons there; the member may fall without warning at that load";
    CAPACITY_STIFFNESS "capacity.stiffness" note "the stiffness of the beam of the document and that of its sections differ", "look which one is right: stop limits, gap and ranges hang on it";
    CAPACITY_MODULUS "capacity.modulus" error "a modulus of elasticity that is not given", "give the modulus of every concrete";
    CAPACITY_CRACKED_REASON "capacity.cracked-reason" error "a section taken as cracked without a reason", "say which cracks were seen, where and when";
    CAPACITY_OUT_OF_RANGE "capacity.out-of-range" error "a value for which the formula does not hold", "take another edition, or figures of your own with their source";

    // capacity: shear, strengthening, local
    CAPACITY_NEAR_SUPPORT "capacity.near-support" error "a load that goes straight into the bearing: no one-way shear", "stand it at least 2 d from the bearing";
    CAPACITY_STRUT "capacity.strut" note "a load near a bearing, part of which goes there by a strut", "stand it more than 2.5 d from the bearing";
    CAPACITY_CAPPED "capacity.capped" note "a value at the cap of its formula", "see the clause";
    CAPACITY_FACTORS "capacity.factors" note "no design strength, because its factors are not given", "give the strength reduction or partial factors of the edition";
    CAPACITY_MEAN "capacity.mean" note "a strength whose mean is not given", "give the mean of tests; until then the specified one stands for it";
    CAPACITY_NOT_KNOWN "capacity.not-known" error "what the edition, as far as it is known here, has no formula for", "give the strength from a bought copy, or take another edition";
    CAPACITY_MINIMUM_STIRRUPS "capacity.minimum-stirrups" error "stirrups without a word on the minimum of the code", "say whether they are at least the minimum of the edition";
    CAPACITY_UNCONFIRMED "capacity.unconfirmed" note "a formula known with moderate confidence", "check it against a bought copy";
    CAPACITY_CLOSE "capacity.close" note "a test near the predicted shear strength", "take the full set of factors, small steps with crack watch, nobody under or on the member";
    CAPACITY_WRAP_DEPTH "capacity.wrap-depth" error "a wrap not deeper than the length that bonds", "give the depth of the wrap; a wrap that shallow carries nothing";
    CAPACITY_WRAP_ANGLE "capacity.wrap-angle" error "a strip that hardly crosses the cracks", "give the angle between the fibres and the axis of the member";
    CAPACITY_WRAP_OVERLAP "capacity.wrap-overlap" error "strips that lie over each other", "give a spacing of at least the width of a strip";
    CAPACITY_WRAPS_IDLE "capacity.wraps-idle" note "a test that hardly strains the wraps", "see the shear at which diagonal cracks are expected";
    CAPACITY_WITHOUT_STRENGTHENING "capacity.without-strengthening" fail "the member without its strengthening does not carry the reduced combination", "strengthen otherwise, or limit the loads; no load test cures it";
    CAPACITY_IN_FIRE "capacity.in-fire" fail "the hot member without its strengthening does not carry the loads in fire", "protect it, or limit the loads; no load test cures it";
    CAPACITY_BEARING "capacity.bearing" fail "a bearing pressure over the strength", "take a larger plate";
    CAPACITY_PUNCHING "capacity.punching" fail "punching over the strength", "spread the force, or stand it on a web";
    CAPACITY_PLATE "capacity.plate" fail "a plate that bends over its strength", "take a thicker plate";
    CAPACITY_DETAIL "capacity.detail" fail "a ledge, corbel, dapped end or anchorage over its strength", "support it, or lower the force";

    // equivalent
    EQUIVALENT_JACK_OUTSIDE "equivalent.jack-outside" error "a contact point beyond the member", "place it between the ends";
    EQUIVALENT_JACK_DUPLICATE "equivalent.jack-duplicate" error "two contact points at one place", "merge them";
    EQUIVALENT_CONTACTS "equivalent.contacts" error "a spreader without two contact points", "give two places, or a spacing to search with";
    EQUIVALENT_CAP_BELOW_ONE "equivalent.cap-below-one" error "a limit of overshoot below one", "give a limit of at least 1";
    EQUIVALENT_EFFECTS_NONE "equivalent.effects-none" error "no effect is asked", "ask for shear, moment or both";
    EQUIVALENT_FORCE_NEGATIVE "equivalent.force-negative" error "a force below zero", "give forces of zero or more; a jack only pushes";
    EQUIVALENT_UNCOVERED "equivalent.uncovered" error "a part of the region that the carrier cannot load", "move the carrier to the far edge of the region";
    EQUIVALENT_JACK_NEAR_SUPPORT "equivalent.jack-near-support" error "a jack that loads the bearing, not the beam", "move it at least 2 d from the bearing";
    EQUIVALENT_NEAR_BEARING "equivalent.near-bearing" note "a strut carries part of the load", "move the jack beyond 2.5 d where the beam's shear is in doubt";
    EQUIVALENT_DISTANCE_UNCHECKED "equivalent.distance-unchecked" note "the distance from jack to bearing is not checked", "give the effective depth";
    EQUIVALENT_DEPTH "equivalent.depth" error "a depth or a bearing length that cannot be", "give the effective depth above zero, the bearing length of zero or more";
    EQUIVALENT_PLATES_UNKNOWN "equivalent.plates-unknown" note "contacts close to each other, with plates of unknown length", "give layout.plate_length";
    EQUIVALENT_UPLIFT "equivalent.uplift" note "a support is pulled up", "hold it down, load the neighbouring span, or ask for a reaction limit with at_least of zero";
    EQUIVALENT_OVERLAP "equivalent.overlap" note "carriers on the same stretch", "move them apart";
    EQUIVALENT_SPACING "equivalent.spacing" error "carriers closer than they may stand", "move them apart, or let the search choose among them";
    EQUIVALENT_CANDIDATE "equivalent.candidate" error "a carrier that cannot be", "give 1 to 4 contacts, shares that add up to 1, capacity and cost above zero";
    EQUIVALENT_PISTONS "equivalent.pistons" error "pistons of unequal area on one pressure source", "take equal jacks, separate sources, or say that unequal pistons are meant";
    EQUIVALENT_REFERENCE "equivalent.reference" error "a reference that does not fit the beam", "give at least one case, each of this beam";
    EQUIVALENT_CARRIER_WIDE "equivalent.carrier-wide" error "a carrier that is wider than the member unit", "give the width that stands on one member unit; what stands beyond it loads its neighbours";
    EQUIVALENT_PILES "equivalent.piles" error "piles that cannot be stacked so", "leave a gap between piles, and keep to the layers that are allowed";
    EQUIVALENT_FREEBOARD "equivalent.freeboard" error "water that does not stay below the freeboard", "raise the rim, or lower the depth";
    EQUIVALENT_STRETCH "equivalent.stretch" error "a stretch that is empty, backwards or beyond the member", "give from and to rising inside the member, or single places";
    EQUIVALENT_REQUIREMENT "equivalent.requirement" error "a requirement that cannot be", "give limits above zero, cases and supports that are there";
    EQUIVALENT_NOTHING_ASKED "equivalent.nothing-asked" error "a requirement to reach nothing", "ask where the reference has the effect, in its sign";
    EQUIVALENT_OBJECTIVE "equivalent.objective" error "an objective that cannot be", "name one of the objectives with what it needs";
    EQUIVALENT_SOLVER "equivalent.solver" error "a search for forces that does not end", "leave out carriers that stand close together, and report the attached problem";
    EQUIVALENT_DEVIATION "equivalent.deviation" error "a deviation that cannot be", "give deviations of zero or more, a stiffness ratio of at least 1";
    EQUIVALENT_STEP "equivalent.step" error "a rounding step that is none", "give a step above zero, for example 25 mm, 1 kN";
    EQUIVALENT_AS_BUILT "equivalent.as-built" note "short of the reference within what may deviate", "raise the forces, place more precisely, or show how the member is held";
    EQUIVALENT_UNTESTED "equivalent.untested" note "an action that the layout does not bring to its reference", "report that it is not tested, or test it in a further stage";
    EQUIVALENT_ABOUT_ZERO "equivalent.about-zero" note "a region in which the reference is about zero", "ask for the effect where it matters";
    EQUIVALENT_UNEVEN_JACKS "equivalent.uneven-jacks" fail "with what jacks that differ on one pressure give, the reference is not reached everywhere", "take jacks alike, a circuit for each, a cell under each, or raise the forces";
    EQUIVALENT_WATER_LEVEL "equivalent.water-level" fail "water above its rim, where the member gives way", "raise the rim, lower the depth, or divide the basin";
    EQUIVALENT_UNEVEN_OVER "equivalent.uneven-over" fail "with what jacks that differ on one pressure give, a limit of the layout is passed", "take jacks alike, a circuit for each, or allow more";
    EQUIVALENT_SHORT "equivalent.short" fail "the layout does not reach the reference for every x", "raise the force or move the carrier";
    EQUIVALENT_LIMIT_CONFLICT "equivalent.limit-conflict" fail "a limit of overshoot is broken", "allow more, move the carrier or add a contact";
    EQUIVALENT_OVER_CAPACITY "equivalent.over-capacity" fail "a carrier brings more than its capacity", "take a stronger carrier, or share the force among more";
    EQUIVALENT_REQUIREMENT_BROKEN "equivalent.requirement-broken" fail "a requirement that the layout does not keep", "change the forces or places, or ask for less";
    EQUIVALENT_SEARCHED "equivalent.searched" note "the places were searched", "read what was tried";
    EQUIVALENT_ROUNDED "equivalent.rounded" note "forces were raised to what can be applied", "read the overshoots with them";
    EQUIVALENT_FILLING "equivalent.filling" fail "no order of filling or stacking keeps what the terms ask", "move the carriers, or let them share the load otherwise";
    EQUIVALENT_FILLING_ORDER "equivalent.filling-order" note "an order in which weights are brought on asks more than the test", "bring them on in the order that is given";
    EQUIVALENT_SUPPORT_BOUNDS "equivalent.support-bounds" note "short of the reference within the bounds of end fixity", "show how the ends are held";

    // rig
    RIG_REACTION_MISSING "rig.reaction-missing" stop "no reaction member, or one whose strength is not known", "name it and give its strength in shear, sagging and hogging";
    RIG_REACTION_IS_TEST "rig.reaction-is-test" error "the reaction member is the member under test", "react against another member";
    RIG_REACTION_SHORT "rig.reaction-short" error "a jack or its bars where no reaction member reaches", "take a reaction member under every jack, or give its place";
    RIG_REACTION_KIND "rig.reaction-kind" error "a field that does not belong to this kind of reaction", "leave it out, or take the kind it belongs to";
    RIG_REACTION_AMBIGUOUS "rig.reaction-ambiguous" error "several reaction members for one place or name", "give each a name of its own, and name the one that is meant";
    RIG_REACTION_PLACE "rig.reaction-place" note "a reaction member without its place", "give the place of its first bearing from the left end of the member under test";
    RIG_FRAME "rig.frame" note "a frame that holds on the member under test", "check that member for what the frame pulls at the places where it holds";
    RIG_UPLIFT_UNKNOWN "rig.uplift-unknown" stop "bearings that cannot lift, and nothing known of what holds them", "give the uplift strength of what is above and below";
    RIG_UPLIFT_COLUMN "rig.uplift-column" error "what holds a bearing down, and no column", "give the strength of the column in tension";
    RIG_UPLIFT_OVER_CAPACITY "rig.uplift-over-capacity" stop "the uplift at a bearing that cannot lift is over its strength", "add counterweight, or react elsewhere";
    RIG_ANCHOR_CAPACITY_MISSING "rig.anchor-capacity-missing" error "an anchor without its strength", "give the strength that a test of the anchor has shown";
    RIG_ANCHOR_OVER_CAPACITY "rig.anchor-over-capacity" stop "an anchor is over its strength", "take more anchors, or lower the force";
    RIG_AXLE_GROUND_MISSING "rig.axle-ground-missing" error "an axle on ground of unknown strength", "give what ground or floor carries under its wheels";
    RIG_AXLE_OVER_GROUND "rig.axle-over-ground" stop "an axle is over what carries its wheels", "spread the wheels, or lower the load";
    RIG_HOLD_OVER_LOAD "rig.hold-over-load" stop "a vehicle is held by more than its chassis takes", "hold it at more places";
    RIG_WEIGHT_UNSETTLED "rig.weight-unsettled" error "a counterweight whose weight is not settled", "give its force, or the water that it is";
    RIG_ANCHOR_MOVEMENT "rig.anchor-movement" note "anchors or a vehicle whose movement is not counted", "give the stiffness of what is pulled on, or add what it gives to the slack";
    RIG_BARS_UNSTABLE "rig.bars-unstable" error "bars or anchors that cannot hold the crosshead of the jack", "put them on both sides of the jack, evenly";
    RIG_CIRCUIT "rig.circuit" error "jacks and presses that do not fit one pressure", "give each press a circuit with jacks that fit its force";
    RIG_JACKS_MISSING "rig.jacks-missing" error "a jack presses and no jacks are given", "give their number, piston, rated pressure and stroke";
    RIG_REACTION_OVER_CAPACITY "rig.reaction-over-capacity" stop "the reaction member is over its strength", "react against several members, or lower the force";
    RIG_STAGING_OVER_CAPACITY "rig.staging-over-capacity" stop "the counterweights alone are over the strength of what carries them", "place fewer, or spread them";
    RIG_COUNTERWEIGHT_OUTSIDE "rig.counterweight-outside" error "a counterweight beyond the reaction member", "place it on the reaction member; places count from the left end of the member under test";
    RIG_LIFTOFF_BELOW_FLOOR "rig.liftoff-below-floor" stop "too little holds the reaction member down", "add counterweight at the place that is advised";
    RIG_FACTOR_ASKED "rig.factor-asked" fail "the factor asked for against lift-off is not reached", "add counterweight";
    RIG_FACTOR_BASIS_MISSING "rig.factor-basis-missing" error "a factor without its basis", "say total_weight or unbalanced_uplift";
    RIG_MONOLITHIC "rig.monolithic" note "bearings that are cast in place do not lift", "check the uplift in column and top steel";
    RIG_PISTON "rig.piston" error "the acting area of the jacks is not settled", "give the area, or the bore as a diameter";
    RIG_FRICTION_RANGE "rig.friction-range" error "a friction no sound jack has", "give 0 to 20 %";
    RIG_PRESSURE_OVER_RATING "rig.pressure-over-rating" stop "the pressure is over the rating", "take larger or more jacks";
    RIG_STROKE_SHORT "rig.stroke-short" stop "the stroke is short", "take jacks with more stroke; never re-shim under load";
    RIG_BAR_OVER_LOAD "rig.bar-over-load" stop "a bar is over its working load", "take more or larger bars";
    RIG_BAR_UNCHECKED "rig.bar-unchecked" stop "bars of unknown strength", "give the working load of the supplier or their tensile strength";

    RIG_BLOCKS "rig.blocks" error "blocks that cannot be placed or searched", "give kinds with names of their own and places on one single-span reaction member, from left to right, with the strength of the floor";
    RIG_BLOCKS_SHORT "rig.blocks-short" stop "all blocks at hand do not hold the reaction member down", "bring more or heavier blocks, or allow other places";
    RIG_TRANSPORT "rig.transport" error "a way of the weights that cannot be", "give where it begins and where it ends, from left to right";
    RIG_SISTER_UNSURVEYED "rig.sister-unsurveyed" stop "a sister of the member in doubt reacts and was not surveyed", "survey it like the member under test and name the record";
    RIG_TOP_CRACKS "rig.top-cracks" fail "the top face of the reaction member cracks", "add counterweight over the jacks, or count it cracked";
    RIG_BAR_STRESS "rig.bar-stress" stop "the stress of a bar is over the part of its strength", "take more or larger bars";
    RIG_BAR_FIXINGS "rig.bar-fixings" stop "coupler, nut or plate of a bar is over its load", "take stronger ones";
    RIG_BAR_BESIDE "rig.bar-beside" stop "a bar beside a rib twists it", "take bars in pairs astride the rib";
    RIG_BEAM_STRENGTH "rig.beam-strength" error "a beam of the rig without its strength", "give its strength in bending and shear";
    RIG_BEAM_OVER_LOAD "rig.beam-over-load" stop "a beam of the rig is over its strength", "take a stronger beam, or more jacks";
    RIG_BEAM_SIDEWAYS "rig.beam-sideways" stop "a beam of the rig that may buckle or roll sideways", "hold it sideways and show it, or describe its section under `sideways`";
    RIG_BEAM_BUCKLES "rig.beam-buckles" stop "a beam of the rig buckles sideways", "hold it at further places, or take a stiffer beam";
    RIG_BEAM_SECTION "rig.beam-section" error "a section of a beam that cannot be", "give a curve with EN 1993-1-1 alone, flanges within the height, a plastic modulus above the elastic one";
    RIG_BEAM_WEB "rig.beam-web" stop "a web of unknown strength under a force", "give what the web takes, stiffeners included";
    RIG_BEAM_TILT "rig.beam-tilt" stop "a spreader tilts further than its seats allow", "take seats that turn further, or contacts that settle alike";
    RIG_BEAM_TILT_UNSAID "rig.beam-tilt-unsaid" note "a spreader that tilts, on seats of which it is not known how far they turn", "give how far its seats let it tilt";
    RIG_TRAIN_STRENGTH "rig.train-strength" error "a jack train without its sideways limit", "give the limit of the supplier";
    RIG_TRAIN_OVER_LOAD "rig.train-over-load" stop "a jack train over what it takes", "align it, shorten it, brace it";
    RIG_TRAIN_BENT "rig.train-bent" stop "a jack train of unknown strength in bending", "give what it takes in bending";
    RIG_TRAIN_MECHANISM "rig.train-mechanism" stop "rocking seats in line", "leave one rocking seat at each end";
    RIG_TRAIN_LOOSE "rig.train-loose" stop "a jack train that is not described, braced or retained", "describe it, brace it both ways and retain every loose part";
    RIG_HOLE_OUTSIDE "rig.hole-outside" error "a hole or cut beyond its member", "measure it from the left end of the member under test";
    RIG_HOLE_UNSCANNED "rig.hole-unscanned" stop "a hole or cut without a scan", "locate bars, tendons and services there and record it";
    RIG_HOLE_UNCHECKED "rig.hole-unchecked" stop "a member that is cut and not checked again", "check the member with its holes and cuts";
    RIG_MARGIN_SMALL "rig.margin-small" note "more of pressure or stroke is used than common practice plans with", "take larger jacks, or jacks with more stroke";
    RIG_CONDITION_UNSHOWN "rig.condition-unshown" note "a condition of the lower floor that the rest of the rig does not bear out", "describe the relief valve of every circuit, weigh every weight, or leave the condition out";
    RIG_NO_RELIEF "rig.no-relief" note "a circuit without a relief valve", "describe it, set between the largest pressure planned and 1.1 of it";
    RIG_BAR_MAGNITUDE "rig.bar-magnitude" note "a working load that steel of this area does not carry", "give the working load of one bar, not of all";
    RIG_BARS_UNSAID "rig.bars-unsaid" note "a jack without bars", "describe the bars, or know that the jack stands against the reaction itself";
    RIG_PRESSURE_MAGNITUDE "rig.pressure-magnitude" note "a pressure of a size that oil does not have here", "look whether a stress or another unit was meant";
    RIG_HOSE_MARGIN "rig.hose-margin" stop "hoses too weak for their pressure", "take hoses that burst at four times the pressure or more";
    RIG_HOSE_HOLDS "rig.hose-holds" stop "a burst hose drops the load, or hoses and valves are not described", "put a check valve or lock nut at every jack";
    RIG_RELIEF "rig.relief" fail "a relief valve that opens too soon or too late", "set it between the largest pressure planned and 1.1 of it";
    RIG_RELEASE "rig.release" liftable "a pump that is not described, that the hand cannot release, or not from outside the zone", "give it a dead-man release and a remote release";
    RIG_HOLD_DRIFT "rig.hold-drift" fail "the locked-off force leaves its band with temperature", "top up without overshoot and log every stroke, or widen the band";
    RIG_PUMP_COARSE "rig.pump-coarse" fail "one stroke of the pump moves the force out of its band", "take a pump of smaller stroke, or jacks of larger area";
    RIG_LEAK_UNKNOWN "rig.leak-unknown" note "a circuit whose leak was not measured", "lock it off for an hour before the test and measure what is lost";
    RIG_BARS_WARM "rig.bars-warm" note "bars whose temperature is not counted", "give their expansion and change of temperature";
    RIG_RAMS "rig.rams" error "jacks that differ, and not each of them is described", "describe every jack of the press";
    RIG_JACKS_UNEVEN "rig.jacks-uneven" fail "jacks on one pressure give shares too far from those that the layout counts", "take jacks alike, a circuit for each, or let the layout deviate by as much";
    RIG_JACKS_UNEVEN_UNSAID "rig.jacks-uneven-unsaid" note "jacks on one pressure give other shares than the layout counts", "give how far a share may lie from that of equal jacks";
    RIG_GAUGE_SHORT "rig.gauge-short" stop "a gauge whose needle leaves its scale", "take a gauge of larger full scale";
    RIG_GAUGE_COARSE "rig.gauge-coarse" note "a gauge too coarse to be held against the load cell", "take a gauge of smaller full scale or better class";

    // shoring
    SHORING_POST_TABLE "shoring.post-table" error "a table of posts that cannot be read", "list heights that rise with loads that do not, up to the height of the posts";
    SHORING_LEVEL_STRENGTH "shoring.level-strength" error "a level whose spare strength is not settled", "give spare, or strength and the smaller own_load";
    SHORING_LEVEL_TWICE "shoring.level-twice" error "one level listed twice", "list each level once, the top first";
    SHORING_LEVEL_IS_TEST "shoring.level-is-test" error "the member under test carries its own catch", "name the levels below it";
    SHORING_POSTS_OVER_CAPACITY "shoring.posts-over-capacity" stop "the posts between levels are over their strength", "take more or stronger posts";
    SHORING_POSTS_UNCHECKED "shoring.posts-unchecked" stop "posts between levels whose strength is not given", "give the posts of each level with their resistance";
    SHORING_GROUND_UNCHECKED "shoring.ground-unchecked" stop "ground whose strength is not given", "describe the ground";
    SHORING_GROUND_STIFFNESS "shoring.ground-stiffness" note "ground whose stiffness is not given", "give its stiffness under the posts";
    SHORING_POST_LEAN "shoring.post-lean" note "posts out of plumb whose strength is not that of leaning posts", "give the post as a column, or set it plumb";
    SHORING_GROUND_OVER_CAPACITY "shoring.ground-over-capacity" stop "the ground is over its strength under the posts", "spread the plates";
    SHORING_DRIVE_UNBOUNDED "shoring.drive-unbounded" note "jacks whose way after a failure has no bound that is known", "describe oil, bars and what the reaction gives";
    SHORING_CATCH_MISSING "shoring.catch-missing" stop "no catch", "describe the catch under the piece that falls";
    SHORING_CATCH_OUTSIDE "shoring.catch-outside" error "a catch beyond the member or at a bearing", "place it under the piece that falls";
    SHORING_CATCH_NEAR "shoring.catch-near" note "a catch that may hold only the stub", "place it beyond the region plus two depths";
    SHORING_CATCH_OVER_CAPACITY "shoring.catch-over-capacity" stop "the catch cannot stop the drop", "lower the gap, add posts or soften the packs";
    SHORING_GAP_MISSING "shoring.gap-missing" error "a gap that is blank or below zero", "give the clear gap at the last step";
    SHORING_GAP_NOT_ABOVE_READING "shoring.gap-not-above-reading" stop "the gap window is empty or missed", "set the gap inside the window, step by step";
    SHORING_RESISTANCE "shoring.resistance" error "the resistance of the posts is not settled", "give number, characteristic resistance or rated load";
    SHORING_LEVELS_ZERO "shoring.levels-zero" error "nothing carries the catch", "name the levels below, or say that the posts go to the ground";
    SHORING_POST_STIFFNESS "shoring.post-stiffness-missing" error "several levels without the stiffness of the posts", "give post_stiffness above zero";
    SHORING_LEVEL_OVER_CAPACITY "shoring.level-over-capacity" stop "a level below is over its spare strength", "take the posts further down";
    SHORING_PIECE_UNCAUGHT "shoring.piece-uncaught" stop "a piece that can fall and nothing holds", "place a catch under it, or show how the stub is held";
    SHORING_STUB "shoring.stub" error "a stub whose hold is not shown", "give the strength where it is cast in, or the length of its bearing";
    SHORING_STUB_OVER_CAPACITY "shoring.stub-over-capacity" stop "a stub over the strength it is cast in with", "place a catch under it";
    SHORING_PIECE_HANGS "shoring.piece-hangs" note "a piece that hangs on its supports alone", "show that it carries that moment, or catch it";
    SHORING_CATCH_IDLE "shoring.catch-idle" note "a catch under nothing that falls", "place it under a piece that falls";
    SHORING_GAP_WIDE "shoring.gap-wide" note "a gap far above what is expected", "lower the heads to the gap recommended";
    SHORING_SPARE_UNSTATED "shoring.spare-unstated" note "a spare strength that does not say after which loads", "give spare_after";
    SHORING_FLOOR_UNCHECKED "shoring.floor-unchecked" note "a catch on a floor that is not checked", "name the reaction member it stands on, or check the floor elsewhere";
    SHORING_FLOOR_OVER_CAPACITY "shoring.floor-over-capacity" stop "the floor under the catch does not carry what falls", "soften the catch, lower the gap, or take the posts further down";
    SHORING_FLOOR_UNKNOWN "shoring.floor-unknown" error "a catch on a floor that the rig does not have", "name the reaction member, or leave it out";
    SHORING_CATCH_ON_WEIGHT "shoring.catch-on-weight" error "a catch and a counterweight on one spot", "move one of them";
    SHORING_POST_OFF_JOIST "shoring.post-off-joist" liftable "a post off the joist line", "stand it on the joist, or show the punching";

    // readings
    READINGS_COLUMN_MISSING "readings.column-missing" error "a column or channel that is not there", "name a column of the log";
    READINGS_COLUMN_TWICE "readings.column-twice" error "one column of the log for two things", "map each column once; name the column that holds the other readings";
    READINGS_EMPTY "readings.empty" error "a log without the rows that are needed", "give a heading and at least zero, peak and residual";
    READINGS_FAULT "readings.fault" error "a fault of a log that is refused", "look at it with the other problems";
    READINGS_RAGGED "readings.ragged" error "a row of another length than the heading", "look at the delimiter, a decimal comma or an unquoted text in that row";
    READINGS_QUOTE "readings.quote" error "a quotation mark that swallows rows", "take the stray quotation mark away, or close it";
    READINGS_HEADING_TWICE "readings.heading-twice" error "a heading that stands twice", "give each column a heading of its own";
    READINGS_FILE "readings.file" error "a log that cannot be opened", "give the text of the log, or a path that can be read";
    READINGS_ENCODING "readings.encoding" error "text that cannot be read", "save the log as UTF-8";
    READINGS_TIME_BACKWARDS "readings.time-backwards" error "the time goes back", "give an offset with the time, or seconds since the start";
    READINGS_ZERO_MISSING "readings.zero-missing" error "no zero reading", "give the window of the last readings before the first increment";
    READINGS_SATURATED "readings.saturated" error "a channel at the end of its range", "leave the channel out; its readings are lost";
    READINGS_WINDOW "readings.window" error "a window that ends before it begins", "exchange from and to";
    READINGS_WINDOW_EMPTY "readings.window-empty" error "no usable sample at a moment that is needed", "widen the window, or leave the gauge out";
    READINGS_DELIMITER "readings.delimiter" error "columns that cannot be told apart", "declare delimiter and decimal mark";
    READINGS_TEMPERATURE_UNIT "readings.temperature-unit" error "a temperature without its scale", "say °C, °F or K";
    READINGS_REFERENCE_MOVING "readings.reference-moving" error "a gauge on a level that moves", "measure that level and name its channel";
    READINGS_SIGN "readings.sign" error "a sign that is neither 1 nor -1", "give 1, or -1 where the channel counts the other way";
    READINGS_TOO_LONG "readings.too-long" error "a log, row or cell longer than any log has", "look whether the file is a log; split it, or leave columns out";
    READINGS_CLEANING "readings.cleaning" error "a cleaning rule that cleans nothing", "give a bin of at most the half window";
    READINGS_ORDER "readings.order" error "moments that do not stand in the order of the test", "give zero, peak, unloading and residual one after the other";
    READINGS_STAGE "readings.stage" error "stages of the log and of the test do not agree", "name each stage as the test does, one after the other, each with its own zero";
    READINGS_CIRCUIT "readings.circuit" error "a channel tied to a circuit that it cannot show", "name a circuit of the test document at a channel of force or pressure";
    READINGS_PLACE "readings.place" error "a channel beyond the member", "give its place from the left end of the member, overhang included";
    READINGS_THERMAL_FIT "readings.thermal-fit" error "control periods that show no drift", "give periods in which the temperature changes and every gauge is read, or state the drift";
    READINGS_CONTROL_LOADED "readings.control-loaded" error "a control period under load", "give periods with the load of the zero on";
    READINGS_DRIFT_TWICE "readings.drift-twice" error "a drift that is stated and fitted", "keep `drift` or `thermal`";
    READINGS_TIME_BEGINS "readings.time-begins" note "a column of time that does not begin at nought", "times of the map and of every answer count from the first row";
    READINGS_SCATTER "readings.scatter" note "an uncertainty stated below the scatter of the readings", "state that of the instrument as it was mounted";
    READINGS_THERMAL_FIT_WEAK "readings.thermal-fit-weak" note "a drift that hardly shows in the control periods", "read the gauges without load over a whole day";
    READINGS_CORRECTION_EXTRAPOLATED "readings.correction-extrapolated" note "a temperature beyond those of the control periods", "read again at a temperature of the control periods";
    READINGS_LOAD_NOT_CORRECTED "readings.load-not-corrected" note "a load too far from the nominal force to be corrected to it", "judge at the load that was on";
    READINGS_ZONE "readings.zone" error "date and time without a zone, or with two", "give `time.zone`: an offset from UTC as +01:00, or the name of a zone";
    READINGS_TIME_UNIT "readings.time-unit" error "a time of another kind than the layout says", "give `time.unit` for numbers, none for date and time";
    READINGS_COLUMN_TYPE "readings.column-type" error "a column that holds no numbers", "give numbers; a missing one as not-a-number, null or masked";
    READINGS_LENGTH "readings.length" error "columns of different length", "give every column one entry a row, not-a-number where there is none";
    READINGS_JSON_LINE "readings.json-line" error "a line that is no JSON object", "write one object a line: {\"time_h\": 0.1, \"P_kN\": 12.5}";
    READINGS_SERIES "readings.series" error "a series that was not kept", "ask for it when the log is judged";
    READINGS_CYCLES "readings.cycles" error "a log without the load cycles of the test", "give a log that holds every cycle, with the least load between them";
    READINGS_NOT_TWINS "readings.not-twins" error "a pair of load cycles that are not twins", "indices of a pair need two cycles of one peak from one least load: repeat the pair";
    READINGS_ID_DUPLICATE "readings.id-duplicate" error "two gauges or channels of one name", "give each its own name";

    // protocol
    PROTOCOL_STEPS_NOT_INCREASING "protocol.steps-not-increasing" error "the steps do not rise to the full load", "list rising fractions that end with 1";
    PROTOCOL_INCREMENTS_FEW "protocol.increments-few" error "fewer increments than the edition asks for", "add steps of about equal size";
    PROTOCOL_HOLD_UNIT_MISSING "protocol.hold-unit-missing" error "a hold without its unit", "write the hold with h, min or s";
    PROTOCOL_HOLD_SHORT "protocol.hold-short" error "a hold shorter than the edition's", "hold the full load at least as long as the edition asks";
    PROTOCOL_HOLD_MISSING "protocol.hold-missing" error "no hold at full load is known", "give the hold at full load";
    PROTOCOL_CYCLES_MISSING "protocol.cycles-missing" error "a cyclic test without its cycles", "take an edition that has a cyclic test, or enter its cycles in an edition file of your own";
    PROTOCOL_GAUGE_OUTSIDE "protocol.gauge-outside" error "a gauge beyond the member", "give its place from the left end of the member, overhang included";
    PROTOCOL_UNWATCHED "protocol.unwatched" stop "a test without a gauge", "place at least one gauge of deflection where most is expected";
    PROTOCOL_ONE_STEP "protocol.one-step" stop "the load in one step", "load in steps, and read after each";
    PROTOCOL_HOLD_UNPREDICTED "protocol.hold-unpredicted" note "a locked-off circuit whose hold is not described", "describe its hold: band, temperatures, leak";
    PROTOCOL_PART_LAYER "protocol.part-layer" note "a step with a part of a layer", "choose fractions that are whole layers";
    PROTOCOL_RANGE_SHORT "protocol.range-short" note "a gauge whose range is short", "take a gauge with at least 1.5 times the soft prediction";
    PROTOCOL_CONSENT_MISSING "protocol.consent-missing" liftable "no consent on record", "have owner, authority, engineer of record and insurer sign";
    PROTOCOL_WATCH_NOT_STAFFED "protocol.watch-not-staffed" liftable "the hold is not watched by two persons", "name two persons for every hour, relieved at most every eight";
    PROTOCOL_PEOPLE_IN_ZONE "protocol.people-in-zone" stop "the zone is not confirmed clear", "clear the zone, count heads, keep it closed";
    PROTOCOL_TENDONS_NOT_LOCATED "protocol.tendons-not-located" stop "tendons, bars or services are not located", "scan before any hole, anchor or cut";
    REPORT_OTHER_TEST "report.other-test" error "a judgement that is not of the test whose report is asked for", "give the judgement of this design, or the design that was judged";
    PROTOCOL_STRENGTH_NOT_READY "protocol.strength-not-ready" stop "repair, adhesive, grout or wrap is not confirmed at strength", "wait for the strength result or the cure time";
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Codes are unique, in kebab case, and begin with a module's name.
    #[test]
    fn codes_are_unique_and_well_formed() {
        let mut seen: Vec<&str> = Vec::new();
        for slug in Slug::all() {
            let code = slug.code();
            assert!(!seen.contains(&code), "{code} twice");
            seen.push(code);
            let fine =
                |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '.';
            assert!(code.chars().all(fine) && code.matches('.').count() == 1, "{code}");
            assert!(!slug.gist().is_empty() && !slug.remedy().is_empty(), "{code}");
            assert_eq!(Slug::of(code), Some(*slug));
        }
    }
}
