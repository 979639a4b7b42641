//! Every rule of the library that is native code, with its formula and source.

use crate::formula::Law;

/// Every law.
#[must_use]
pub fn every_law() -> Vec<&'static Law> {
    [
        crate::beam::LAWS,
        crate::loads::LAWS,
        crate::loads::PONDING_LAWS,
        crate::editions::LAWS,
        crate::target::LAWS,
        crate::target::TEST_LOAD_LAWS,
        crate::capacity::local::BEARING_LAWS,
        crate::capacity::local::PLATE_LAWS,
        crate::capacity::local::PUNCHING_LAWS,
        crate::capacity::local::REDUCED_LAWS,
        crate::capacity::shear::ACI_LAWS,
        crate::capacity::shear::EN_LAWS,
        crate::capacity::strengthening::ADDED_LAWS,
        crate::capacity::strengthening::FRP_LAWS,
        crate::capacity::strengthening::REDUCED_MOMENT_LAWS,
        crate::capacity::strengthening::REDUCED_SHEAR_LAWS,
        crate::capacity::CRACKING_LAWS,
        crate::capacity::FLEXURE_LAWS,
        crate::capacity::STIFFNESS_LAWS,
        crate::equivalent::LAWS,
        crate::equivalent::CARRIER_LAWS,
        crate::equivalent::CERTIFICATE_LAWS,
        crate::rig::PRESS_LAWS,
        crate::rig::LIFT_OFF_LAWS,
        crate::rig::STAGE_LAWS,
        crate::rig::EQUIPMENT_LAWS,
        crate::rig::COUNTERWEIGHT_LAWS,
        crate::rig::HYDRAULIC_LAWS,
        crate::rig::HOLDING_LAWS,
        crate::rig::OIL_LAWS,
        crate::rig::MANIFOLD_LAWS,
        crate::rig::GEAR_LAWS,
        crate::rig::SIDEWAYS_LAWS,
        crate::capacity::ELASTIC_LAWS,
        crate::capacity::STRIP_LAWS,
        crate::shoring::BEARING_LAWS,
        crate::shoring::CATCH_LAWS,
        crate::shoring::LEVEL_LAWS,
        crate::shoring::RESISTANCE_LAWS,
        crate::shoring::POST_LAWS,
        crate::protocol::LAWS,
        crate::design::LAWS,
        crate::readings::LAWS,
        crate::readings::CORRECTION_LAWS,
        crate::readings::CYCLE_LAWS,
    ]
    .concat()
}

#[cfg(test)]
mod tests {
    use super::every_law;
    use crate::formula::{Formula, Vocabulary};
    use crate::units::Kind;

    /// Every law's formula is checked for kinds through the grammar, and names its source.
    #[test]
    fn every_formula_keeps_its_kinds() {
        let laws = every_law();
        assert!(laws.len() > 35, "{}", laws.len());
        for law in laws {
            let names: Vec<(&str, Kind)> = law.symbols.iter().map(|s| (s.0, s.2)).collect();
            let checked = Formula::quantity(law.formula, &Vocabulary::of(&names), law.result.1);
            assert!(checked.is_ok(), "{}: {} {:?}", law.name, law.formula, checked);
            assert!(!law.source.is_empty() && law.doc.trim().len() > 8, "{}", law.name);
        }
    }
}
