//! The expected shear strengths of many reinforced sections at once.

use super::aci::{AciForm, AciWeb, reinforced};
use super::alone::MOST_STEEL;
use super::en::{EnWeb, en_2004};
use super::spec::ShearEdition;
use crate::capacity::material::{ConcreteStress, SteelStress};
use crate::capacity::shape::Size;
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::NoRecord;
use crate::source::rule::{NotNegative, Positive, Rule, broken};
use crate::units::{Area, Force, Length, Quantified, Stress};

/// Stirrups of many sections; a column of one value holds for all of them.
#[derive(Clone, PartialEq, Debug)]
pub struct StirrupColumns {
    /// Area of all legs at one place.
    pub area: Vec<Area>,
    /// Spacing along the member.
    pub spacing: Vec<Length>,
    /// Yield strength.
    pub yields: Vec<Stress>,
    /// Whether they are at least the minimum of the edition.
    pub minimum: bool,
}

/// Many reinforced sections without axial force: the strengths are used as they are given, nothing is
/// reduced. A column of one value holds for all of them.
///
/// ```
/// use proofspan::capacity::shear::{ShearColumns, ShearEdition};
/// use proofspan::units::*;
///
/// let many = ShearColumns {
///     code: ShearEdition::Aci,
///     strength: vec![3000.0 * PSI, 4000.0 * PSI],
///     width: vec![12.0 * IN],
///     depth: vec![20.0 * IN],
///     tension_steel: vec![2.4 * IN2],
///     stirrups: None,
/// };
/// assert_eq!(many.strengths()?[1].to(LBF).round(), 21_361.0);
/// # Ok::<(), proofspan::error::Error>(())
/// ```
#[derive(Clone, PartialEq, Debug)]
pub struct ShearColumns {
    /// By which formulas.
    pub code: ShearEdition,
    /// Concrete strength.
    pub strength: Vec<Stress>,
    /// Width of all webs.
    pub width: Vec<Length>,
    /// Effective depth.
    pub depth: Vec<Length>,
    /// Area of the anchored tension steel.
    pub tension_steel: Vec<Area>,
    /// The stirrups.
    pub stirrups: Option<StirrupColumns>,
}

/// So many problems of one column are listed.
const LISTED: usize = 10;
/// So many sections between two looks at whether to go on.
const STRIDE: usize = 1 << 16;

/// What is wrong with one column: its length, and its first values that the rule refuses.
fn column<Q: Quantified, R: Rule>(name: &str, values: &[Q], n: usize, issues: &mut Vec<Issue>) {
    if values.len() != 1 && values.len() != n {
        let message = "columns of different length";
        let issue = Issue::new(slug::UNITS_ARRAY, name, message);
        issues.push(issue.value(values.len()).limit(format!("1 or {n}")));
    }
    let wrong = values.iter().enumerate().filter_map(|(i, v)| {
        let broken = broken::<R>(Q::KIND, v.magnitude())?;
        Some(broken.issue(format!("{name}[{i}]"), v.quantity()))
    });
    issues.extend(wrong.take(LISTED));
}

/// The value of a section.
fn at<Q: Copy>(values: &[Q], i: usize) -> Option<Q> {
    values.get(if values.len() == 1 { 0 } else { i }).copied()
}

impl ShearColumns {
    /// The strength of every section, in order.
    ///
    /// # Errors
    /// All at once: `units.array` for columns that do not pair, the values that their rules refuse (the
    /// first ten of a column), `capacity.not-known` for EN 1992-1-1:2023; `source.interrupted`.
    pub fn strengths(&self) -> Result<Vec<Force>, Error> {
        let s = self.stirrups.as_ref();
        let lengths = [
            self.strength.len(),
            self.width.len(),
            self.depth.len(),
            self.tension_steel.len(),
            s.map_or(1, |s| s.area.len()),
            s.map_or(1, |s| s.spacing.len()),
            s.map_or(1, |s| s.yields.len()),
        ];
        let n = if lengths.contains(&0) { 0 } else { lengths.into_iter().max().unwrap_or(0) };
        let mut issues = Vec::new();
        if self.code == ShearEdition::En2023 {
            let message = "many sections at once need no more than concrete, steel and stirrups";
            let issue = Issue::new(slug::CAPACITY_NOT_KNOWN, "code", message);
            issues.push(issue.remedy("ask for one section at a time"));
        }
        column::<_, ConcreteStress>("strength", &self.strength, n, &mut issues);
        column::<_, Size>("width", &self.width, n, &mut issues);
        column::<_, Size>("depth", &self.depth, n, &mut issues);
        column::<_, NotNegative>("tension_steel", &self.tension_steel, n, &mut issues);
        if let Some(s) = s {
            column::<_, Positive>("stirrup_area", &s.area, n, &mut issues);
            column::<_, Size>("stirrup_spacing", &s.spacing, n, &mut issues);
            column::<_, SteelStress>("stirrup_yield", &s.yields, n, &mut issues);
        }
        let fits = |i: &usize| {
            let most = at(&self.width, *i).zip(at(&self.depth, *i));
            let steel = at(&self.tension_steel, *i);
            most.zip(steel).is_none_or(|((b, d), steel)| steel <= b * d * MOST_STEEL)
        };
        for i in (0..n).filter(|i| !fits(i)).take(10) {
            let path = format!("tension_steel[{i}]");
            let message = "more steel than a section of this width and depth holds";
            issues.push(Issue::new(slug::CAPACITY_SHAPE, path, message).source("library rule"));
        }
        Error::check(issues)?;
        let mut found = Vec::with_capacity(n);
        for i in 0..n {
            if i % STRIDE == 0 {
                go_on()?;
            }
            // every column holds one value or n of them
            found.push(self.section(i).unwrap_or(Force::ZERO));
        }
        Ok(found)
    }

    fn section(&self, i: usize) -> Option<Force> {
        let (strength, b) = (at(&self.strength, i)?, at(&self.width, i)?);
        let (d, steel) = (at(&self.depth, i)?, at(&self.tension_steel, i)?);
        let (area, spacing, yields, minimum) = match &self.stirrups {
            Some(s) => (at(&s.area, i)?, at(&s.spacing, i)?, at(&s.yields, i)?, s.minimum),
            None => (Area::ZERO, Length::from_si(f64::INFINITY), Stress::ZERO, false),
        };
        let form = match self.code {
            ShearEdition::Aci => AciForm::US,
            ShearEdition::AciMetric => AciForm::METRIC,
            ShearEdition::En2004 | ShearEdition::En2023 => {
                let web = EnWeb {
                    fck: strength,
                    gamma_c: 1.0,
                    fcd: strength,
                    b,
                    d,
                    z: d * 0.9,
                    tension: steel,
                    axial: Force::ZERO,
                    gross: b * d,
                    asw: area,
                    spacing,
                    fywd: yields,
                    alpha_cw: 1.0,
                    cot: None,
                };
                return Some(en_2004(&mut NoRecord, &web).strength);
            }
        };
        let web = AciWeb {
            fc: strength,
            lambda: 1.0,
            b,
            d,
            rho: steel / (b * d),
            axial: Force::ZERO,
            gross: b * d,
            av: area,
            spacing,
            fyt: yields,
            minimum,
        };
        Some(reinforced(&mut NoRecord, &form, &web).nominal)
    }
}
