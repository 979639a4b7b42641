//! The steps from actions to a layout, one by one.

use proofspan::editions::LoadSet;
use proofspan::equivalent::{self, Effect, LayoutSpec};
use proofspan::error::slug;
use proofspan::scope::Doubt;
use proofspan::source::{
    Node, Several, Value, Write, html, parse_json, read_named, read_node, write_json,
};
use proofspan::target::{self, Asked};
use proofspan::units::{Kind, Length, LoadBasis, Message, Page};
use proofspan::verdict::MemberUnit;
use pyo3::prelude::*;
use pyo3::types::PyDict;

use crate::alone::edition_choice;
use crate::beam::{Beam, Response, along, record};
use crate::by_name;
use crate::column::place;
use crate::documents::named;
use crate::errors::{long, raise};
use crate::quantity::Quantity;
pub(crate) use crate::refuse::system;
use crate::refuse::{drawn, one_of, refuse, side};
use crate::tree::{from_python, plain_python};
use crate::working::{Working, working};

pub(crate) fn basis(word: &str) -> PyResult<LoadBasis> {
    let words = [("net", LoadBasis::Net), ("total", LoadBasis::Total)];
    one_of("basis", "a load basis", word, &words)
}

fn asked(what: &str) -> PyResult<(Asked, Kind)> {
    one_of(
        "what",
        "an effect",
        what,
        &[
            ("intensity", (Asked::Intensity, Kind::LineLoad)),
            ("shear", (Asked::Shear, Kind::Force)),
            ("moment", (Asked::Moment, Kind::Moment)),
            ("sagging", (Asked::Sagging, Kind::Moment)),
            ("hogging", (Asked::Hogging, Kind::Moment)),
            ("deflection", (Asked::Deflection, Kind::Length)),
        ],
    )
}

/// What the test must reproduce, per member unit: the combinations of an edition on a beam. The
/// governing term differs from quantity to quantity and along the member.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Target {
    pub(crate) target: target::Target,
    pub(crate) set: LoadSet,
}

#[pymethods]
impl Target {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// The edition.
    #[getter]
    fn edition(&self) -> String {
        self.set.edition.name().to_owned()
    }

    /// The name of the load set.
    #[getter]
    fn set(&self) -> String {
        self.set.set.to_string()
    }

    /// Why this set applies.
    #[getter]
    fn why(&self) -> String {
        self.set.why.to_string()
    }

    /// What every value is counted for.
    #[getter]
    fn unit(&self) -> &'static str {
        self.target.unit.word()
    }

    /// The length of the member.
    #[getter]
    fn length(&self) -> Quantity {
        Quantity::of(self.target.beam.length().into())
    }

    /// The region in doubt.
    #[getter]
    fn region(&self) -> (Quantity, Quantity) {
        (Quantity::of(self.target.from.into()), Quantity::of(self.target.to.into()))
    }

    /// Each combination with its factors.
    #[getter]
    fn terms(&self, py: Python<'_>) -> PyResult<Py<PyDict>> {
        let dict = PyDict::new(py);
        for row in self.target.rows() {
            let factors = PyDict::new(py);
            for (symbol, factor) in row.factors() {
                factors.set_item(symbol.word(), factor)?;
            }
            dict.set_item(row.id.as_str(), factors)?;
        }
        Ok(dict.unbind())
    }

    /// What acts before the test.
    #[getter]
    fn in_place(&self) -> Response {
        Response(self.target.in_place.clone())
    }

    /// The actions of one term, "net" or "total".
    #[pyo3(signature = (name, basis = "net"))]
    fn term(
        &self,
        #[pyo3(from_py_with = by_name::name)] name: &str,
        #[pyo3(from_py_with = by_name::basis)] basis: &str,
    ) -> PyResult<Response> {
        let basis = self::basis(basis)?;
        let term = self.target.terms.iter().find(|t| t.id == name).ok_or_else(|| {
            let names: Vec<(&str, ())> =
                self.target.terms.iter().map(|t| (t.id.as_str(), ())).collect();
            match one_of("name", "a term", name, &names) {
                Err(refusal) => refusal,
                Ok(()) => refuse(slug::SOURCE_CHOICE, "name", "not a term"),
            }
        })?;
        Ok(Response(if basis == LoadBasis::Total { &term.total } else { &term.net }.clone()))
    }

    /// The value that governs "intensity", "shear", "moment", "sagging", "hogging" or "deflection" at
    /// one place or many, net or total. "moment" is the one in doubt: the largest hogging where hogging
    /// is in doubt, the largest sagging where flexure is, the largest in size where shear is.
    #[pyo3(signature = (what, x, side = "left", basis = "net"))]
    fn governing(
        &self,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
        #[pyo3(from_py_with = by_name::basis)] basis: &str,
    ) -> PyResult<Py<PyAny>> {
        let ((asked, kind), side, basis) = (asked(what)?, self::side(side)?, self::basis(basis)?);
        along(x, kind, |x| Ok(self.target.governing(asked, basis, x, side)?.value))
    }

    /// The term that governs a quantity at one place.
    #[pyo3(signature = (what, x, side = "left", basis = "net"))]
    fn governing_term(
        &self,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
        #[pyo3(from_py_with = by_name::basis)] basis: &str,
    ) -> PyResult<String> {
        let ((asked, _), side, basis) = (asked(what)?, self::side(side)?, self::basis(basis)?);
        let found = self.target.governing(asked, basis, place(x, "x")?, side);
        let found = found.map_err(|e| raise(x.py(), &e))?;
        Ok(self.target.term_name(found.term).to_owned())
    }

    /// Where the governing term of a quantity changes, net or total: place, term left of it, term right
    /// of it.
    #[pyo3(signature = (what, basis = "net"))]
    fn crossings(
        &self,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        #[pyo3(from_py_with = by_name::basis)] basis: &str,
    ) -> PyResult<Vec<(Quantity, String, String)>> {
        let name = |i: usize| self.target.term_name(i).to_owned();
        let (asked, _) = asked(what)?;
        Ok(self
            .target
            .crossings(asked, self::basis(basis)?)
            .iter()
            .map(|c| (Quantity::of(c.at.into()), name(c.left), name(c.right)))
            .collect())
    }

    /// The working, in "SI" or "US" units: `print` it, or take it line by line.
    #[pyo3(signature = (units = "SI"))]
    fn working(&self, #[pyo3(from_py_with = by_name::units)] units: &str) -> PyResult<Working> {
        working(self.target.working(), units)
    }

    fn __repr__(&self) -> String {
        let terms: Vec<&str> = self.target.terms.iter().map(|t| t.id.as_str()).collect();
        format!(
            "Target({}, set {}, per {}, terms {})",
            self.set.edition.name(),
            self.set.set,
            self.target.unit.word(),
            terms.join(", ")
        )
    }
}

/// The same problems at the arguments of the caller, who gives one by one what is `part` of a document.
fn inside(part: &str, mut error: proofspan::Error) -> proofspan::Error {
    for issue in &mut error.issues {
        if let Some(own) = issue.path.strip_prefix(part).and_then(|rest| rest.strip_prefix('.')) {
            issue.path = own.to_owned();
        }
    }
    error
}

/// What the test must reproduce: beam, actions, edition (its name, an Edition or EditionChoice, or the path of a file), region in
/// doubt, and what one value is counted for ("strip", "joist", "stem", "beam", "metre").
/// `determinate=True` where the member is known to be statically determinate.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> loads = ps.Loads(width="2 m", self_weight="4 kPa", live="3 kPa", in_place="self_weight")
/// >>> target = ps.target(beam, loads, "ACI 437.2-13", ps.Doubt("flexure", "2 m", "6 m"), "strip")
/// >>> f"{target.governing('moment', '4 m'):.1f kN·m}"
/// '76.8 kN·m'
#[pyfunction]
#[pyo3(name = "target", signature = (beam, loads, edition, doubt, unit, determinate = None))]
pub(crate) fn make_target(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::beam)] beam: &Beam,
    loads: &Bound<'_, PyAny>,
    edition: &Bound<'_, PyAny>,
    doubt: &Bound<'_, PyAny>,
    #[pyo3(from_py_with = by_name::unit)] unit: &str,
    #[pyo3(from_py_with = by_name::determinate)] determinate: Option<bool>,
) -> PyResult<Target> {
    let edition = edition_choice(edition)?;
    let unit: MemberUnit = read_named("unit", &Node::text(unit)).map_err(|e| raise(py, &e))?;
    let doubt: Several<Doubt> = named(py, doubt, "doubt")?;
    let (set, target) = target::reference(
        &beam.0,
        &named(py, loads, "loads")?,
        &edition,
        &doubt,
        unit,
        determinate,
    )
    .map_err(|e| raise(py, &inside("scope", e)))?;
    Ok(Target { target, set })
}

/// The jacks that reproduce a target, with what they reach. Every force is per member unit and net.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Layout {
    pub(crate) layout: equivalent::Layout,
    pub(crate) target: Target,
}

#[pymethods]
impl Layout {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// The sum of the forces on one member unit, net.
    #[getter]
    fn force(&self) -> Quantity {
        Quantity::of(self.layout.force.0.into())
    }

    /// Place and force of each line of contact, from left to right.
    #[getter]
    fn forces(&self) -> Vec<(Quantity, Quantity)> {
        self.layout
            .forces()
            .into_iter()
            .map(|(x, p)| (Quantity::of(x.into()), Quantity::of(p.0.into())))
            .collect()
    }

    /// What the layout stands for.
    #[getter]
    fn target(&self) -> Target {
        self.target.clone()
    }

    /// Shear, moment and deflection of the jacks alone, soft prediction.
    #[getter]
    fn response(&self) -> Response {
        Response(self.layout.response.clone())
    }

    /// The largest test over reference of "shear" or "moment" inside the region, "net" or "total".
    fn overshoot(
        &self,
        #[pyo3(from_py_with = by_name::effect)] effect: &str,
        #[pyo3(from_py_with = by_name::basis)] basis: &str,
    ) -> PyResult<Option<f64>> {
        let effect = self::effect(effect)?;
        Ok(self.layout.overshoot(effect, self::basis(basis)?).map(|r| r.value()))
    }

    /// Test over reference of "shear" or "moment" at a place, against the envelope.
    #[pyo3(signature = (effect, x, side = "left", basis = "net"))]
    fn ratio(
        &self,
        #[pyo3(from_py_with = by_name::effect)] effect: &str,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
        #[pyo3(from_py_with = by_name::basis)] basis: &str,
    ) -> PyResult<Option<f64>> {
        let (effect, side, basis) = (self::effect(effect)?, self::side(side)?, self::basis(basis)?);
        let found = self.layout.ratios(&self.target.target, effect, basis, place(x, "x")?, side);
        Ok(found.map_err(|e| raise(x.py(), &e))?.1.map(|r| r.0))
    }

    /// Every result, by name; with `units`, "SI" or "US", as JSON can hold it.
    #[pyo3(signature = (units = None))]
    fn to_dict(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
    ) -> PyResult<Py<PyAny>> {
        plain_python(py, units, || self.layout.write().settled())
    }

    /// Every result as JSON text in SI.
    fn to_json(&self) -> String {
        write_json(&self.layout.write())
    }

    /// The working, in "SI" or "US" units: `print` it, or take it line by line.
    #[pyo3(signature = (units = "SI"))]
    fn working(&self, #[pyo3(from_py_with = by_name::units)] units: &str) -> PyResult<Working> {
        working(self.layout.working(&self.target.target), units)
    }

    /// Draws reference and test "shear" or "moment", net, region shaded; returns the Axes.
    #[pyo3(signature = (effect = "moment", units = "SI", ax = None))]
    fn plot(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::effect)] effect: &str,
        #[pyo3(from_py_with = by_name::units)] units: &str,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        self::effect(effect)?;
        system(units)?;
        drawn(slf.py(), "layout", (slf, effect, units, ax))
    }

    fn __repr__(&self) -> String {
        let lines: Vec<String> = self
            .layout
            .forces()
            .iter()
            .map(|(x, p)| Message::new("{} at {}", [p.0.into(), (*x).into()]).to_string())
            .collect();
        format!("Layout(net per {}: {})", self.target.target.unit.word(), lines.join(", "))
    }

    fn _repr_html_(&self) -> String {
        let row = |v: &proofspan::verdict::Verdict| {
            format!(
                "<tr><td>{}</td><td>{}</td><td>{}</td></tr>",
                v.slug.code(),
                v.state,
                v.utilisation.map_or_else(String::new, |u| Page::default().number(u, 4))
            )
        };
        let rows: String = self.layout.verdicts.iter().map(row).collect();
        format!(
            "<p>{}</p><table><tr><th>check</th><th>state</th><th>utilisation</th></tr>{rows}</table>",
            html(&self.__repr__())
        )
    }
}

pub(crate) fn effect(word: &str) -> PyResult<Effect> {
    let words: Vec<(&str, Effect)> = Effect::ALL.iter().map(|e| (e.word(), *e)).collect();
    one_of("effect", "an effect", word, &words)
}

/// The least force that reproduces a target, and the place where none is given. Takes a LayoutSpec,
/// or its fields by name; a carrier that is left out is one line of jacks whose place is searched.
/// Refuses with InputError where no force of this carrier reaches the region.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> loads = ps.Loads(width="2 m", self_weight="4 kPa", live="3 kPa", in_place="self_weight")
/// >>> target = ps.target(beam, loads, "ACI 437.2-13", ps.Doubt("shear", "0 m", "1 m"), "strip")
/// >>> layout = ps.layout(target, carrier=ps.JackLine(at="1 m"))
/// >>> f"{layout.force:.2f kN}", round(layout.overshoot("shear", "net"), 3)
/// ('43.89 kN', 1.333)
#[pyfunction]
#[pyo3(name = "layout", signature = (target, spec = None, *, effective_depth = None, **fields))]
pub(crate) fn make_layout(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::target)] target: &Target,
    spec: Option<&Bound<'_, PyAny>>,
    effective_depth: Option<&Bound<'_, PyAny>>,
    fields: Option<&Bound<'_, PyDict>>,
) -> PyResult<Layout> {
    let given = spec;
    let spec: LayoutSpec = match (spec, fields) {
        (Some(_), Some(_)) => {
            let message = "a layout is described by a LayoutSpec or by fields, not by both";
            return Err(refuse(slug::SOURCE_CONTRADICTION, "spec", message));
        }
        (Some(spec), None) => named(py, spec, "spec")?,
        (None, fields) => {
            let mut node = match fields {
                Some(fields) => from_python(fields.as_any(), "")?,
                None => Node::new(Value::Map(Vec::new())),
            };
            if node.get("carrier").is_none()
                && let Value::Map(entries) = &mut node.value
            {
                let line = parse_json(r#"{"kind":"jack_line"}"#).map_err(|e| raise(py, &e))?;
                entries.push(proofspan::source::Entry { key: "carrier".to_owned(), node: line });
            }
            read_node(&node).map_err(|e| raise(py, &e))?
        }
    };
    let depth = match effective_depth {
        Some(depth) => {
            let node = from_python(depth, "effective_depth")?;
            record::<Depth>(py, vec![("effective_depth", node)])?.effective_depth
        }
        None => None,
    };
    let by_name = given.is_none();
    let home = |e| if by_name { inside("layout", e) } else { e };
    let layout = long(py, || equivalent::layout(&target.target, &spec, depth).map_err(home))?;
    Ok(Layout { layout, target: target.clone() })
}

proofspan::record! {
    /// The depth to the tension steel.
    pub struct Depth {
        /// Distance of the tension steel from the compressed face.
        effective_depth: Option<Length>,
    }
}
