//! How a log is laid out.

use std::borrow::Cow;

use crate::error::{Issue, slug};
use crate::source::rule::{NotNegative, Positive, SCHEMA_VERSION, Uncertainty, Version, Wait};
use crate::source::{Given, Input, Reader, Several, Write as _, unused_ranges};
use crate::units::{Area, Duration, Force, Kind, Length, Message, Ratio, Row, TemperatureChange};
use crate::verdict::DESIGN_SLACK;

crate::choice! {
    /// What a channel measures.
    pub enum Role ("role", source::SOURCE_CHOICE) {
        /// The force of a jack or cell.
        Force = "force",
        /// Vertical deflection of the member, down positive after its sign.
        Deflection = "deflection",
        /// Vertical movement of a bearing, down positive after its sign.
        Settlement = "settlement",
        /// Vertical movement of the level a gauge stands on, down positive after its sign.
        Level = "level",
        /// Temperature.
        Temperature = "temperature",
        /// The pressure of a jack's circuit.
        Pressure = "pressure",
        /// The depth of water or of another load that is poured or heaped.
        Depth = "depth",
        /// A signed count of weights.
        Count = "count",
        /// A turn of the member at its place, positive after its sign where the right end goes down.
        Rotation = "rotation",
        /// A strain.
        Strain = "strain",
        /// The width of a crack.
        Crack = "crack",
    }
}

impl Role {
    /// Whether it is a vertical movement: of the member, a bearing or the level below.
    pub(super) const fn is_movement(self) -> bool {
        matches!(self, Self::Deflection | Self::Settlement | Self::Level)
    }

    /// The kind of its values.
    #[must_use]
    pub const fn kind(self) -> Kind {
        match self {
            Self::Force => Kind::Force,
            Self::Deflection | Self::Settlement | Self::Level | Self::Depth | Self::Crack => {
                Kind::Length
            }
            Self::Temperature => Kind::Temperature,
            Self::Pressure => Kind::Pressure,
            Self::Count => Kind::Ratio,
            Self::Rotation => Kind::Rotation,
            Self::Strain => Kind::Strain,
        }
    }
}

crate::choice! {
    /// What a channel of strain or crack width stands for in the stop rules of an edition.
    pub enum StandsFor ("what a channel stands for", source::SOURCE_CHOICE) {
        /// Strain of the concrete in compression.
        Concrete = "concrete",
        /// Strain of the tension steel.
        Steel = "steel",
        /// Strain of a strut of a region in shear.
        Strut = "strut",
        /// Strain of a stirrup.
        Stirrup = "stirrup",
        /// Width of a crack that opened in the test.
        NewCrack = "new_crack",
        /// How far a crack that was there before opened.
        OldCrack = "old_crack",
    }
}

impl StandsFor {
    const fn role(self) -> Role {
        match self {
            Self::Concrete | Self::Steel | Self::Strut | Self::Stirrup => Role::Strain,
            Self::NewCrack | Self::OldCrack => Role::Crack,
        }
    }
}

crate::record! {
    /// The column of time.
    pub struct TimeSpec {
        /// Its heading.
        column: String,
        /// `h`, `min` or `s`; left out for date and time (ISO 8601).
        unit: Option<String>,
        /// The zone of date and time that are written without an offset: `+01:00`, `UTC`, or a name
        /// such as `Europe/Vienna`.
        zone: Option<String>,
    }
    rules { time_unit[unit]; time_zone[unit, zone]; }
}

fn time_zone(reader: &mut Reader, unit: &Option<String>, zone: &Option<String>) {
    let Some(text) = zone else { return };
    let path = reader.path_of("zone");
    if unit.is_some() {
        let message = "a time that counts from the start has no zone";
        reader.push(
            Issue::new(slug::READINGS_ZONE, path, message)
                .value(text)
                .remedy("leave `zone` out, or `unit` where the log writes date and time"),
        );
    } else if super::zone::zone(text).is_none() {
        let message = format!("`{text}` is neither an offset from UTC nor the name of a zone");
        reader.push(
            Issue::new(slug::READINGS_ZONE, path, message)
                .value(text)
                .limit("+01:00, UTC, Europe/Vienna"),
        );
    }
}

fn time_unit(reader: &mut Reader, unit: &Option<String>) {
    if let Some(unit) = unit
        && Kind::Duration.unit(unit).is_none()
    {
        let path = reader.path_of("unit");
        reader.push(
            Issue::new(slug::UNITS_UNKNOWN, path, format!("`{unit}` is not a unit of time"))
                .value(unit)
                .limit("s, min, h, d"),
        );
    }
}

crate::rule! {
    /// A place of a channel, from the left end of the member.
    pub ChannelPlace { least 0.0 READINGS_PLACE }
    /// The factor of a calibration: beyond these a unit is meant (library rule).
    pub CalibrationFactor { least 0.5 SOURCE_MAGNITUDE, most 2.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// What a calibration found of a channel: true value = factor × reading + offset.
    pub struct Calibration {
        /// The factor.
        factor: f64 where CalibrationFactor = 1.0,
        /// Its standard uncertainty.
        u: f64 where Uncertainty,
        /// What is added after it, in the unit of the channel. A deflection is counted from its zero
        /// and does not feel it.
        offset: f64 = 0.0,
        /// The certificate.
        source: Option<String>,
    }
}

crate::record! {
    /// A channel.
    pub struct ChannelSpec {
        /// Its name; for a gauge the one of the schedule.
        id: String,
        /// The heading of its column.
        column: String,
        /// The unit of its numbers.
        unit: String,
        /// What it measures.
        role: Role,
        /// 1, or -1 where its numbers count the other way.
        sign: f64 = 1.0,
        /// Its place from the left end; for deflection, settlement and rotation.
        at: Option<Given<Length, ChannelPlace>>,
        /// The channel that measures the level this gauge stands on, where that level moves.
        level: Option<String>,
        /// Whether it stands on something that moves.
        on_moving_level: bool = false,
        /// What it stands for in the stop rules of an edition; for strain and crack width.
        stands_for: Option<StandsFor>,
        /// Standard uncertainty of one reading, in its unit.
        u: Option<f64> where Uncertainty,
        /// The largest size it can show, in its unit.
        range: Option<f64> where Positive,
        /// How far from zero its first readings may be, in its unit, before that is named.
        zero_tolerance: Option<f64> where NotNegative,
        /// What its calibration found, where its numbers do not hold it already.
        calibration: Option<Calibration>,
        /// The acting area of all jacks on this circuit together, less their friction; for pressure.
        area: Option<Given<Area, Positive>>,
        /// The circuit whose force it shows, by its name in the test document; for force and pressure.
        circuit: Option<String>,
    }
    rules {
        unit_fits[unit, role];
        sign_is_one[sign];
        place_known[role, at];
        stands_for_its_role[role, stands_for];
        level_known[on_moving_level, level];
        area_of_pressure[role, area];
        circuit_of_force[role, circuit];
    }
}

fn unit_fits(reader: &mut Reader, unit: &String, role: &Role) {
    let kind = role.kind();
    if kind.unit(unit).is_some() {
        return;
    }
    let path = reader.path_of("unit");
    if kind == Kind::Temperature {
        reader.push(
            Issue::new(
                slug::READINGS_TEMPERATURE_UNIT,
                path,
                format!("`{unit}`: is the temperature in °C, °F or K?"),
            )
            .value(unit),
        );
        return;
    }
    let symbols: Vec<&str> = kind.units().iter().map(|u| u.symbol).collect();
    reader.push(
        Issue::new(
            slug::UNITS_UNKNOWN,
            path,
            format!("`{unit}` is not a unit of {}", kind.words()),
        )
        .value(unit)
        .limit(symbols.join(", ")),
    );
}

fn sign_is_one(reader: &mut Reader, sign: &f64) {
    if (sign.abs() - 1.0).abs() > 0.0 {
        let path = reader.path_of("sign");
        reader.push(Issue::new(slug::READINGS_SIGN, path, "a sign is 1 or -1").value(sign));
    }
}

fn place_known(reader: &mut Reader, role: &Role, at: &Option<Given<Length, ChannelPlace>>) {
    if matches!(role, Role::Deflection | Role::Settlement | Role::Rotation) && at.is_none() {
        let path = reader.path_of("at");
        reader.push(Issue::new(
            slug::SOURCE_FIELD_MISSING,
            path,
            format!("a channel of role {role} needs its place"),
        ));
    }
}

fn stands_for_its_role(reader: &mut Reader, role: &Role, stands_for: &Option<StandsFor>) {
    if let Some(own) = stands_for.filter(|own| own.role() != *role) {
        let path = reader.path_of("stands_for");
        let message = format!("a channel of role {role} does not measure this");
        let issue = Issue::new(slug::SOURCE_CHOICE, path, message).value(own.word());
        reader.push(issue.limit(format!("role {}", own.role())));
    }
}

fn area_of_pressure(reader: &mut Reader, role: &Role, area: &Option<Given<Area, Positive>>) {
    if let Some(area) = area.as_ref().filter(|_| *role != Role::Pressure) {
        let path = reader.path_of("area");
        let message = format!("a channel of role {role} acts on no area");
        let issue = Issue::new(slug::SOURCE_CHOICE, path, message).value(area.said());
        reader.push(issue.limit(format!("role {}", Role::Pressure)));
    }
}

fn circuit_of_force(reader: &mut Reader, role: &Role, circuit: &Option<String>) {
    if let Some(name) = circuit.as_ref().filter(|_| !matches!(role, Role::Force | Role::Pressure)) {
        let path = reader.path_of("circuit");
        let message = format!("a channel of role {role} shows the force of no circuit");
        let issue = Issue::new(slug::READINGS_CIRCUIT, path, message).value(name);
        reader.push(issue.limit(format!("role {}, {}", Role::Force, Role::Pressure)));
    }
}

fn level_known(reader: &mut Reader, moving: &bool, level: &Option<String>) {
    if *moving && level.is_none() {
        let path = reader.path_of("level");
        reader.push(Issue::new(
            slug::READINGS_REFERENCE_MOVING,
            path,
            "the gauge stands on a level that moves, and no channel measures that level",
        ));
    }
}

crate::record! {
    /// A stretch of time from the start of the log.
    pub struct Window {
        /// Its beginning.
        from: Given<Duration, Wait>,
        /// Its end.
        to: Given<Duration, Wait>,
    }
    rules { window_forward[from, to]; }
}

impl Window {
    /// Whether a time (seconds) is in it.
    pub(super) fn holds(&self, t: f64) -> bool {
        t >= self.from.value.si() - 1e-9 && t <= self.to.value.si() + 1e-9
    }
}

fn window_forward(reader: &mut Reader, from: &Input<Duration>, to: &Input<Duration>) {
    if from.value > to.value {
        let path = reader.path().to_owned();
        reader.push(
            Issue::new(slug::READINGS_WINDOW, path, "the window ends before it begins")
                .value(Message::new("{} to {}", [from.said(), to.said()])),
        );
    }
}

crate::rule! {
    /// How far a load may be from what it should be, as a part of the target: up to a twentieth
    /// (library rule).
    pub LoadBand { above 0.0 SOURCE_SIGN, most 0.05 SOURCE_MAGNITUDE }
}

/// The bands of the library about zero and target.
pub(crate) const ZERO_BAND: Ratio = Ratio::from_si(0.01);
pub(crate) const LOAD_BAND: Ratio = Ratio::from_si(0.02);

crate::record! {
    /// The moments at which a median of readings is taken.
    pub struct Moments {
        /// The last readings before the first increment.
        zero: Window => READINGS_ZERO_MISSING "without a zero no channel has a deflection",
        /// The end of the hold at full load.
        peak: Window,
        /// The residual reading, after the load is off.
        residual: Option<Window>,
        /// When the load was off.
        unloaded: Option<Given<Duration, Wait>>,
        /// What the schedule has on at zero, and again when the residual is read: nothing, a least
        /// load, an earlier stage. As the cells of record show it.
        at_zero: Given<Force, NotNegative> = Given::known(Force::ZERO),
        /// The force to which the largest deflection is brought by the secant of each gauge, where
        /// the load changed while it was held. Left out: the deflection at the load that was on.
        nominal: Option<Given<Force, Positive>>,
    }
    rules { in_turn[zero, peak, unloaded, residual]; }
}

crate::record! {
    /// Where a stage of the test after the first is in the log.
    pub struct StageMoments {
        /// The name of the stage in the test document.
        name: String,
        /// When it begins: what is before belongs to the stages before it.
        from: Given<Duration, Wait>,
        /// The moments of this stage, its own zero first; times since the start of the whole log.
        moments: Moments,
    }
    rules { after_its_begin[from, moments]; }
}

fn after_its_begin(reader: &mut Reader, from: &Input<Duration>, moments: &Moments) {
    if moments.zero.from.value < from.value {
        let path = reader.path_of("moments.zero.from");
        let message = "the zero of a stage lies before the stage begins";
        reader.push(
            Issue::new(slug::READINGS_STAGE, path, message)
                .value(moments.zero.from.said())
                .limit(Message::new("from {} on", [from.said()])),
        );
    }
}

/// Stages follow each other, and each is told once.
fn stages_follow(reader: &mut Reader, moments: &Moments, stages: &Vec<StageMoments>) {
    let mut before = moments.residual.as_ref().map_or(moments.peak.to.value, |r| r.to.value);
    for (i, stage) in stages.iter().enumerate() {
        let path = reader.path_of(&format!("stages[{i}]"));
        if stage.from.value < before {
            let message = "a stage begins before the one before it was read to its end";
            reader.push(
                Issue::new(slug::READINGS_STAGE, format!("{path}.from"), message)
                    .value(stage.from.said())
                    .limit(Message::new("from {} on", [before.into()])),
            );
        }
        if stages.iter().take(i).any(|s| s.name == stage.name) {
            let message = "a stage that is told twice";
            let issue = Issue::new(slug::READINGS_STAGE, format!("{path}.name"), message);
            reader.push(issue.value(&stage.name));
        }
        let own = &stage.moments;
        before = own.residual.as_ref().map_or(own.peak.to.value, |r| r.to.value);
    }
}

crate::record! {
    /// The cleaning rule: gate and half window of the running median.
    pub struct Cleaning {
        /// A sample farther than this from the running median is left out.
        gate: Given<Length, Positive>,
        /// Half the width of the running median.
        half_window: Given<Duration, Positive>,
        /// One sample a bin votes in the median.
        bin: Given<Duration, Positive> = Given::known(Duration::from_si(1.0)),
    }
    rules { cleans[half_window, bin]; }
}

crate::record! {
    /// A drift of the gauges with temperature: reading += rise per temperature change.
    pub struct Drift {
        /// The temperature channel.
        channel: String,
        /// How far a reading moves, down positive.
        moves: Given<Length>,
        /// Per this change of temperature.
        per: Given<TemperatureChange, Positive>,
        /// Standard uncertainty of `moves`.
        u: Option<Given<Length, Uncertainty>>,
    }
}

crate::record! {
    /// The drift of each gauge with temperature as control periods show it: times in which nothing
    /// but the temperature changes, with the load of the zero on. Least squares.
    pub struct ThermalFit {
        /// The temperature channels: one, or several, as of top and soffit.
        channels: Several<String>,
        /// The control periods; a full day without load before the test says most.
        periods: Several<Window>,
    }
}

crate::choice! {
    /// What separates the decimals.
    pub enum Decimal ("decimal mark", source::SOURCE_CHOICE) {
        /// 17.9
        Point = "point",
        /// 17,9
        Comma = "comma",
    }
}

crate::record! {
    /// The layout of a log.
    pub struct LogSpec {
        /// The column of time.
        time: TimeSpec,
        /// The channels.
        channels: Vec<ChannelSpec>,
        /// What separates the columns: one character.
        delimiter: String = ",".to_owned(),
        /// What separates the decimals.
        decimal: Decimal = Decimal::Point,
        /// Cells with one of these texts are missing values.
        missing: Vec<String> = vec![String::new()],
        /// Numbers with which an instrument says that it has none.
        sentinels: Vec<f64> = Vec::new(),
        /// The cleaning rule, where there is one.
        cleaning: Option<Cleaning>,
        /// The moments at which readings are taken.
        moments: Moments,
        /// The stages of the test after the first.
        stages: Vec<StageMoments> = Vec::new(),
        /// The drift with temperature, where it is known.
        drift: Option<Drift>,
        /// The drift with temperature, where control periods show it.
        thermal: Option<ThermalFit>,
        /// How far from what should be on at zero the force may be, as a part of the target
        /// (1 %: library rule).
        zero_band: Ratio where LoadBand = ZERO_BAND,
        /// How far from the target the load and its hold may be, as a part of it (2 %: library
        /// rule).
        load_band: Ratio where LoadBand = LOAD_BAND,
        /// The version of the document.
        schema_version: u32 where Version = SCHEMA_VERSION,
    }
    rules {
        ids_differ[channels];
        columns_differ[time, channels];
        one_delimiter[delimiter, decimal];
        names_known[channels, drift, thermal];
        controls_apart[moments, thermal];
        stages_follow[moments, stages];
    }
}

fn ids_differ(reader: &mut Reader, channels: &Vec<ChannelSpec>) {
    for (i, channel) in channels.iter().enumerate() {
        if channels.iter().take(i).any(|c| c.id == channel.id) {
            let path = format!("{}[{i}].id", reader.path_of("channels"));
            reader.push(Issue::new(
                slug::READINGS_ID_DUPLICATE,
                path,
                format!("two channels are called `{}`", channel.id),
            ));
        }
    }
}

/// A column is one witness: read twice it would be summed, averaged or believed twice.
fn columns_differ(reader: &mut Reader, time: &TimeSpec, channels: &Vec<ChannelSpec>) {
    for (i, channel) in channels.iter().enumerate() {
        let before = channels.iter().take(i).find(|c| c.column == channel.column);
        let other = match before {
            Some(other) => format!("by `{}`", other.id),
            None if channel.column == time.column => "as the time".to_owned(),
            None => continue,
        };
        let path = format!("{}[{i}].column", reader.path_of("channels"));
        let message = format!("the column is read {other} and by `{}`", channel.id);
        reader.push(Issue::new(slug::READINGS_COLUMN_TWICE, path, message).value(&channel.column));
    }
}

fn one_delimiter(reader: &mut Reader, delimiter: &String, decimal: &Decimal) {
    let clash = delimiter == "," && *decimal == Decimal::Comma;
    if delimiter.len() != 1 || clash {
        let path = reader.path_of("delimiter");
        reader.push(
            Issue::new(slug::READINGS_DELIMITER, path, "the columns cannot be told apart")
                .value(delimiter)
                .limit("one character, not the decimal mark"),
        );
    }
}

fn names_known(
    reader: &mut Reader,
    channels: &Vec<ChannelSpec>,
    drift: &Option<Drift>,
    thermal: &Option<ThermalFit>,
) {
    let role = |id: &str| channels.iter().find(|c| c.id == id).map(|c| c.role);
    for (i, channel) in channels.iter().enumerate() {
        if let Some(level) = &channel.level
            && role(level) != Some(Role::Level)
        {
            let path = format!("{}[{i}].level", reader.path_of("channels"));
            reader.push(
                Issue::new(
                    slug::READINGS_REFERENCE_MOVING,
                    path,
                    format!("`{level}` is not a channel of role level"),
                )
                .value(level),
            );
        }
    }
    let path = reader.path_of("drift");
    let mut named: Vec<(Cow<'_, str>, &str)> =
        drift.iter().map(|d| (format!("{path}.channel").into(), d.channel.as_str())).collect();
    let path = format!("{}.channels", reader.path_of("thermal"));
    for thermal in thermal.iter() {
        let all = thermal.channels.iter().enumerate();
        named.extend(all.map(|(i, id)| (thermal.channels.path(&path, i), id.as_str())));
    }
    for (path, id) in named {
        if role(id) != Some(Role::Temperature) {
            let message = format!("`{id}` is not a channel of role temperature");
            reader.push(Issue::new(slug::READINGS_COLUMN_MISSING, path, message));
        }
    }
    if drift.is_some() && thermal.is_some() {
        let path = reader.path_of("thermal");
        let message = "a drift is stated and fitted too: which of them is to be taken off?";
        reader.push(Issue::new(slug::READINGS_DRIFT_TWICE, path, message));
    }
}

/// In the peak window the load is on.
fn controls_apart(reader: &mut Reader, moments: &Moments, thermal: &Option<ThermalFit>) {
    let Some(thermal) = thermal else { return };
    let path = format!("{}.periods", reader.path_of("thermal"));
    for (i, period) in thermal.periods.iter().enumerate() {
        let peak = &moments.peak;
        if period.from.value <= peak.to.value && period.to.value >= peak.from.value {
            let message = "a control period with the full load on";
            let issue =
                Issue::new(slug::READINGS_CONTROL_LOADED, thermal.periods.path(&path, i), message);
            reader.push(issue.value(format!("{} to {}", period.from.shown(), period.to.shown())));
        }
    }
}

/// The standard uncertainty of a force that is counted, in newtons: next to none.
const COUNTED: f64 = 1e-6;

impl ChannelSpec {
    /// The row of its unit in the table of units.
    pub(crate) fn row(&self) -> Option<Row> {
        self.role.kind().unit(&self.unit)
    }

    /// Makes it a channel of force, so many newtons for each of its units. What is counted is as good as
    /// certain where nothing else is stated.
    pub(crate) fn become_force(&mut self, factor: f64) {
        let counted = (self.role == Role::Count).then_some(COUNTED);
        self.u = self.u_si().map(|u| u * factor.abs()).or(counted);
        self.role = Role::Force;
        self.unit = "N".to_owned();
        (self.range, self.zero_tolerance, self.calibration) = (None, None, None);
        self.area = None;
    }

    /// The standard uncertainty of one of its readings, in SI, where it is stated.
    pub(crate) fn u_si(&self) -> Option<f64> {
        self.row().zip(self.u).map(|(row, u)| row.factor * u)
    }
}

impl LogSpec {
    /// The map of one stage alone: the first, or a later one by its number.
    pub(crate) fn of_stage(&self, later: Option<usize>) -> Self {
        let mut one = Self { stages: Vec::new(), ..self.clone() };
        if let Some(stage) = later.and_then(|i| self.stages.get(i)) {
            one.moments = stage.moments.clone();
        }
        one
    }

    /// The standard uncertainty of the sum of the cells (newtons), where each states one. Cells of one
    /// calibration are correlated: theirs add, the least first.
    pub(super) fn u_force(&self) -> Option<f64> {
        let cells = self.channels.iter().filter(|c| c.role == Role::Force);
        let mut all = cells.map(ChannelSpec::u_si).collect::<Option<Vec<f64>>>()?;
        all.sort_unstable_by(f64::total_cmp);
        Some(all.iter().sum())
    }

    /// What of the map has ends or an uncertainty that nothing uses.
    pub(crate) fn unused_ranges(&self) -> Vec<Issue> {
        // by how much a place is off, its rotation and settlement are
        let placed = |path: &str| path.starts_with("columns.channels[") && path.ends_with("].at");
        unused_ranges("columns", &self.write(), &|path, of_u| of_u && placed(path))
    }

    /// The channels that stand beyond a member of this length, in the order of the channels.
    #[must_use]
    pub fn beyond(&self, length: Length) -> Vec<Issue> {
        let slack = length * DESIGN_SLACK;
        let outside = |x: Length| !(x >= -slack && x <= length + slack);
        self.channels
            .iter()
            .enumerate()
            .filter_map(|(i, c)| c.at.as_ref().filter(|at| outside(at.value)).map(|at| (i, c, at)))
            .map(|(i, c, at)| {
                Issue::new(
                    slug::READINGS_PLACE,
                    format!("channels[{i}].at"),
                    format!("channel `{}` stands beyond the member", c.id),
                )
                .value(at.said())
                .limit(Message::new("0 to {}", [length.into()]))
            })
            .collect()
    }
}

/// A bin longer than the half window leaves one vote, and every sample is its own median.
fn cleans(reader: &mut Reader, half_window: &Input<Duration>, bin: &Input<Duration>) {
    if bin.value > half_window.value {
        let path = reader.path_of("bin");
        reader.push(
            Issue::new(
                slug::READINGS_CLEANING,
                path,
                "a bin longer than the half window leaves one vote: nothing would be cleaned",
            )
            .value(bin.said())
            .limit(Message::new("at most {}", [half_window.said()])),
        );
    }
}

/// The moments follow one another: zero, peak, unloading, residual.
fn in_turn(
    reader: &mut Reader,
    zero: &Window,
    peak: &Window,
    unloaded: &Option<Given<Duration, Wait>>,
    residual: &Option<Window>,
) {
    let window = |name, w: &Window| (name, w.from.value, w.to.value);
    let moments = [
        Some(window("zero", zero)),
        Some(window("peak", peak)),
        unloaded.as_ref().map(|off| ("unloaded", off.value, off.value)),
        residual.as_ref().map(|w| window("residual", w)),
    ];
    let moments: Vec<(&str, Duration, Duration)> = moments.into_iter().flatten().collect();
    for (before, after) in moments.iter().zip(moments.iter().skip(1)) {
        // the load comes on between zero and peak
        let together = before.0 == "zero" && after.1 <= before.2;
        if after.1 < before.2 || together {
            let path = reader.path_of(after.0);
            let message = format!("{} does not begin after {} ends", after.0, before.0);
            reader.push(
                Issue::new(slug::READINGS_ORDER, path, message)
                    .value(after.1)
                    .limit(Message::new("{} or later", [before.2.into()])),
            );
        }
    }
}
