//! Pump, hold, gauge, hoses and valves of a circuit, as a document describes them.

use crate::error::{Issue, slug};
use crate::source::rule::{Movement, NotNegative, Positive};
use crate::source::{Given, Reader};
use crate::units::{
    Duration, Length, Pressure, Ratio, TemperatureChange, ThermalExpansion, Volume,
};

crate::rule! {
    /// How long a leak was watched: up to thirty days (library rule).
    pub LeakTime { above 0.0 SOURCE_SIGN, most 2592000.0 SOURCE_MAGNITUDE }
    /// A band about the full force, as a part of it: above zero, up to a half (library rule).
    pub Band { above 0.0 SOURCE_SIGN, most 0.5 SOURCE_MAGNITUDE }
    /// Class or division of a gauge, as a part of its full scale: up to a tenth (library rule).
    pub GaugeClass { above 0.0 SOURCE_SIGN, most 0.1 SOURCE_MAGNITUDE }
    /// Expansion of oil by volume, less that of the steel: up to 0.01 1/K (library rule).
    pub Expands { above 0.0 SOURCE_SIGN, most 0.01 SOURCE_MAGNITUDE }
    /// A change of temperature as a size: up to 100 K (library rule).
    pub ChangeSize { least 0.0 SOURCE_NEGATIVE, most 100.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// The pump of a circuit.
    pub struct Pump {
        /// The least oil that one controlled stroke brings.
        stroke: Given<Volume, Positive>,
        /// Whether the release opens when the hand leaves it.
        dead_man: bool = false,
        /// Whether the circuit can be unloaded from outside the zone.
        remote_release: bool = false,
    }
}

crate::record! {
    /// Oil that leaks past a locked-off circuit.
    pub struct Leak {
        /// How much.
        volume: Given<Volume, NotNegative>,
        /// In what time, as it was measured.
        over: Given<Duration, LeakTime>,
    }
}

crate::record! {
    /// A circuit that is locked off for the hold at full load.
    pub struct LockedOff {
        /// The band in which the force is kept, as a part of the full force, either way.
        band: Given<Ratio, Band>,
        /// Expansion of the oil by volume, less that of jacks and hoses.
        expansion: Given<ThermalExpansion, Expands>,
        /// By how much the oil can cool in the hold: a frosty night.
        cooling: Given<TemperatureChange, ChangeSize>,
        /// By how much it can warm.
        warming: Given<TemperatureChange, ChangeSize>,
        /// Expansion of the bars by length.
        bars_expansion: Option<Given<ThermalExpansion, Expands>>,
        /// By how much the bars can warm or cool against both members.
        bars_change: Option<Given<TemperatureChange, ChangeSize>>,
        /// The leak that a trial showed.
        leak: Option<Leak>,
        /// Whether a valve at every jack is shut for the hold: each then keeps its own oil.
        isolated: bool = false,
        /// How far the member under test creeps down at the jacks in the hold at full load, where it is stated.
        creep: Option<Given<Length, Movement>>,
    }
    rules { bars_both[bars_expansion, bars_change]; }
}

fn bars_both(
    reader: &mut Reader,
    expansion: &Option<Given<ThermalExpansion, Expands>>,
    change: &Option<Given<TemperatureChange, ChangeSize>>,
) {
    let missing = match (expansion, change) {
        (Some(_), None) => "bars_change",
        (None, Some(_)) => "bars_expansion",
        _ => return,
    };
    let path = reader.path_of(missing);
    let message = "of the bars either expansion and change of temperature are given, or neither";
    reader.push(Issue::new(slug::SOURCE_FIELD_MISSING, path, message));
}

crate::record! {
    /// The pressure gauge of a circuit.
    pub struct PressureGauge {
        /// Its full scale.
        full_scale: Given<Pressure, Positive>,
        /// Its class: the largest error, as a part of full scale.
        class: Given<Ratio, GaugeClass>,
        /// The least that can be read from it.
        division: Given<Pressure, Positive>,
    }
}

crate::record! {
    /// What keeps the pressure in, and what lets it out.
    pub struct Fittings {
        /// The pressure at which the weakest hose or coupling bursts.
        hose_burst: Option<Given<Pressure, Positive>>,
        /// The pressure at which the relief valve opens.
        relief: Option<Given<Pressure, Positive>>,
        /// Whether a check valve or lock nut sits at every jack, so that a burst hose drops nothing.
        held_at_jack: bool = false,
    }
}
