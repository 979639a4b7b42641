//! Beams, loads on them, and their exact actions.

use proofspan::beam::{self, InfluenceOf, Restraint, Settled, Side};
use proofspan::error::{Issue, slug};
use proofspan::source::{Node, Read, Value, read_node};
use proofspan::units::{
    Curvature, FlexuralRigidity, Force, Kind, Length, LineLoad, Measure, Message, Moment, NOISE,
    Page, RotationalStiffness, Said, SpringStiffness, TemperatureChange, ThermalExpansion,
};
use pyo3::IntoPyObjectExt;
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyString};

use crate::by_name;
use crate::column::{Column, place, places};
use crate::errors::raise;
use crate::lines::{Influence, Marked, by, marked};
use crate::parts::part;
use crate::pickle::{BeamNumbers, LoadNumbers, SupportNumbers, of_beam, of_load, of_support};
use crate::quantity::{Quantity, Remade};
use crate::refuse::{drawn, one_of, refuse, refused, side, system};
use crate::tree::Walk;

/// Arguments by name, read by the reader of documents: all problems at once.
pub(crate) fn arguments<T: Read>(
    py: Python<'_>,
    given: &[(&str, &Bound<'_, PyAny>)],
) -> PyResult<T> {
    let mut walk = Walk::default();
    let entries = given.iter().map(|(name, value)| (*name, walk.node(value, name))).collect();
    walk.done()?;
    read_node(&Node::map(entries)).map_err(|e| raise(py, &e))
}

proofspan::record! {
    /// A span and its stiffness.
    pub struct Span {
        /// Left overhang.
        left: Length = Length::ZERO,
        /// The span.
        span: Length,
        /// Right overhang.
        right: Length = Length::ZERO,
        /// EI.
        rigidity: FlexuralRigidity,
    }
}

proofspan::record! {
    /// A whole beam and its stiffness.
    pub struct Whole {
        /// Its length.
        length: Length,
        /// EI.
        rigidity: FlexuralRigidity,
    }
}

proofspan::record! {
    /// A support.
    pub struct SupportFields {
        /// Place from the left end.
        at: Length,
        /// Spring under it; rigid where it is left out.
        spring: Option<SpringStiffness>,
        /// Rotational spring; free to turn where it is left out.
        rotation: Option<RotationalStiffness>,
        /// Whether rotation is held rigidly.
        fixed: bool = false,
        /// Settlement, down positive.
        settlement: Length where Settled = Length::ZERO,
    }
}

/// A support of a beam: rigid vertically unless a spring is given, free to turn unless it is fixed or
/// a rotational spring is given. Settlement is positive down. With `lifts` it only pushes, and the
/// member lifts off where it would have to pull.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Support(pub(crate) beam::Support);

#[pymethods]
impl Support {
    fn __reduce__(&self, py: Python<'_>) -> PyResult<Remade<SupportNumbers>> {
        let make = py.import("proofspan._core")?.getattr("_support")?.unbind();
        Ok((make, of_support(&self.0)))
    }

    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    #[new]
    #[pyo3(signature = (at, *, spring = None, rotation = None, fixed = false, settlement = None, lifts = false))]
    fn new(
        at: &Bound<'_, PyAny>,
        spring: Option<&Bound<'_, PyAny>>,
        rotation: Option<&Bound<'_, PyAny>>,
        #[pyo3(from_py_with = by_name::fixed)] fixed: bool,
        settlement: Option<&Bound<'_, PyAny>>,
        #[pyo3(from_py_with = by_name::lifts)] lifts: bool,
    ) -> PyResult<Self> {
        let mut given = vec![("at", at)];
        given.extend(spring.map(|s| ("spring", s)));
        given.extend(rotation.map(|r| ("rotation", r)));
        given.extend(settlement.map(|s| ("settlement", s)));
        let fields: SupportFields = arguments(at.py(), &given)?;
        if fixed && fields.rotation.is_some() {
            let message = "a support that is fixed turns on no spring";
            return Err(refuse(slug::SOURCE_CONTRADICTION, "rotation", message));
        }
        Ok(Self(beam::Support {
            at: fields.at,
            vertical: fields.spring.map_or(Restraint::Rigid, Restraint::Spring),
            rotation: match (fixed, fields.rotation) {
                (true, _) => Restraint::Rigid,
                (false, spring) => spring.map_or(Restraint::Free, Restraint::Spring),
            },
            settlement: fields.settlement,
            lifts,
        }))
    }

    fn __repr__(&self) -> String {
        fn held<K: Into<Said>>(how: Restraint<K>) -> Said {
            match how {
                Restraint::Rigid => "rigid".into(),
                Restraint::Spring(k) => k.into(),
                _ => "free".into(),
            }
        }
        let s = &self.0;
        let lifts = if s.lifts { ", lifts" } else { "" };
        let said = Message::new(
            "Support(at {}, vertical {}, rotation {}, settlement {}{})",
            [
                s.at.into(),
                held(s.vertical),
                held(s.rotation),
                Said::small(s.settlement),
                lifts.into(),
            ],
        );
        said.to_string()
    }
}

/// A line of spans with its supports and EI; x runs from the left end.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Beam(pub(crate) beam::Beam);

#[pymethods]
impl Beam {
    fn __reduce__(&self, py: Python<'_>) -> PyResult<Remade<BeamNumbers>> {
        let make = py.import("proofspan._core")?.getattr("_beam")?.unbind();
        Ok((make, of_beam(&self.0)))
    }

    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// Any line of spans: its whole length, its supports, its EI throughout.
    #[new]
    fn new(
        length: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::supports)] supports: Vec<Bound<'_, Support>>,
        rigidity: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let py = length.py();
        let fields: Whole = arguments(py, &[("length", length), ("rigidity", rigidity)])?;
        let supports = supports.iter().map(|s| s.get().0).collect();
        made(py, beam::Beam::new(fields.length, supports, vec![(Length::ZERO, fields.rigidity)]))
    }

    /// A simple span between two bearings.
    #[staticmethod]
    fn simple(span: &Bound<'_, PyAny>, rigidity: &Bound<'_, PyAny>) -> PyResult<Self> {
        let py = span.py();
        let fields: Span = arguments(py, &[("span", span), ("rigidity", rigidity)])?;
        made(py, beam::Beam::simple(fields.span, fields.rigidity))
    }

    /// A cantilever held at its left end.
    #[staticmethod]
    fn cantilever(length: &Bound<'_, PyAny>, rigidity: &Bound<'_, PyAny>) -> PyResult<Self> {
        let py = length.py();
        let fields: Whole = arguments(py, &[("length", length), ("rigidity", rigidity)])?;
        made(py, beam::Beam::cantilever(fields.length, fields.rigidity))
    }

    /// A span between two bearings with overhangs, either of which may be zero.
    #[staticmethod]
    fn overhanging(
        left: &Bound<'_, PyAny>,
        span: &Bound<'_, PyAny>,
        right: &Bound<'_, PyAny>,
        rigidity: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let py = span.py();
        let given = [("left", left), ("span", span), ("right", right), ("rigidity", rigidity)];
        let fields: Span = arguments(py, &given)?;
        made(py, beam::Beam::overhanging(fields.left, fields.span, fields.right, fields.rigidity))
    }

    /// The same beam with hinges at these places.
    fn with_hinges(&self, hinges: &Bound<'_, PyAny>) -> PyResult<Self> {
        let places = places(hinges, "hinges")?.si.into_iter().map(Length::from_si).collect();
        made(hinges.py(), self.0.clone().with_hinges(places))
    }

    /// The same beam with shear deformation: its shear rigidity G A_s throughout.
    fn with_shear(&self, shear_rigidity: &Bound<'_, PyAny>) -> PyResult<Self> {
        let py = shear_rigidity.py();
        let fields: ShearFields = arguments(py, &[("shear_rigidity", shear_rigidity)])?;
        made(py, self.0.clone().with_shear(vec![(Length::ZERO, fields.shear_rigidity)]))
    }

    /// The influence line of "shear", "moment" or "deflection" at a place, or of the "reaction" of
    /// a support by its number from 0.
    #[pyo3(signature = (response, at = None, support = None))]
    fn influence(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::response)] response: &str,
        at: Option<&Bound<'_, PyAny>>,
        #[pyo3(from_py_with = by_name::support)] support: Option<usize>,
    ) -> PyResult<Influence> {
        let place = at.map(|at| place(at, "at")).transpose()?;
        let wanted = match (response, place, support) {
            ("shear", Some(at), None) => InfluenceOf::Shear(at),
            ("moment", Some(at), None) => InfluenceOf::Moment(at),
            ("deflection", Some(at), None) => InfluenceOf::Deflection(at),
            ("reaction", None, Some(i)) => InfluenceOf::Reaction(i),
            _ => {
                let short: String = response.chars().take(60).collect();
                let message = "an influence line is of a response at a place, or of the reaction of a support";
                let issue = Issue::new(slug::SOURCE_CONTRADICTION, "response", message);
                return Err(refused(issue.value(short).limit(
                    "shear, moment or deflection with `at` alone; reaction with `support` alone",
                )));
            }
        };
        let line = self.0.influence(wanted).map_err(|e| raise(py, &e))?;
        Ok(Influence(line))
    }

    /// The stretches between neighbouring supports, overhangs included.
    #[getter]
    fn spans(&self) -> Vec<(Quantity, Quantity)> {
        let of = |x: Length| Quantity::of(x.into());
        self.0.spans().into_iter().map(|(a, b)| (of(a), of(b))).collect()
    }

    /// The patterns of this beam, each as marks and in words, and whether these hold the worst of all
    /// patterns of whole spans.
    fn patterns(&self, py: Python<'_>) -> PyResult<(Vec<Marked>, bool)> {
        let found = self.0.patterns().map_err(|e| raise(py, &e))?;
        Ok((found.all.into_iter().map(marked).collect(), found.worst))
    }

    /// Loads cut to the spans that a pattern marks.
    fn patterned(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::pattern)] pattern: Vec<bool>,
        #[pyo3(from_py_with = by_name::loads)] loads: Vec<Bound<'_, Load>>,
    ) -> PyResult<Vec<Load>> {
        let loads: Vec<beam::Load> = loads.iter().map(|l| l.get().0).collect();
        let pattern = beam::Pattern { loaded: pattern };
        let found = self.0.patterned(&pattern, &loads).map_err(|e| raise(py, &e))?;
        Ok(found.into_iter().map(Load).collect())
    }

    /// Place, "fixed", "bearing", "seat" or "spring", of every support.
    #[getter]
    fn supports(&self) -> Vec<(Quantity, &'static str)> {
        let word = |s: &beam::Support| match (s.vertical, s.rotation, s.lifts) {
            (_, _, true) => "seat",
            (Restraint::Spring(_), ..) => "spring",
            (_, Restraint::Rigid, _) => "fixed",
            _ => "bearing",
        };
        self.0.supports().iter().map(|s| (Quantity::of(s.at.into()), word(s))).collect()
    }

    /// Places of the hinges.
    #[getter]
    fn hinges(&self) -> Column {
        let si = self.0.hinges().iter().map(|h| h.si()).collect();
        Column { measure: Measure::of(Kind::Length), si }
    }

    /// Draws the beam with its supports, hinges and loads, like a hand sketch; returns the Axes.
    #[pyo3(signature = (loads = Vec::new(), units = "SI", ax = None))]
    fn plot(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::loads)] loads: Vec<Bound<'_, Load>>,
        #[pyo3(from_py_with = by_name::units)] units: &str,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        system(units)?;
        drawn(slf.py(), "beam", (slf, loads, units, ax))
    }

    /// The whole length.
    #[getter]
    fn length(&self) -> Quantity {
        Quantity::of(self.0.length().into())
    }

    /// The exact actions under loads.
    fn response(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::loads)] loads: Vec<Bound<'_, Load>>,
    ) -> PyResult<Response> {
        let loads: Vec<beam::Load> = loads.iter().map(|l| l.get().0).collect();
        self.0.response(&loads).map(Response).map_err(|e| raise(py, &e))
    }

    fn __repr__(&self) -> String {
        format!("Beam({}, {} supports)", self.0.length(), self.0.supports().len())
    }
}

fn made(py: Python<'_>, beam: Result<beam::Beam, proofspan::Error>) -> PyResult<Beam> {
    beam.map(Beam).map_err(|e| raise(py, &e))
}

proofspan::record! {
    /// A force at a place.
    pub struct PointFields {
        /// Place.
        at: Length,
        /// A force, down positive.
        force: Force,
    }
}

proofspan::record! {
    /// A moment at a place.
    pub struct CoupleFields {
        /// Place.
        at: Length,
        /// A moment, clockwise positive.
        moment: Moment,
    }
}

proofspan::record! {
    /// A load along a part.
    pub struct LineFields {
        /// Left edge.
        from: Length,
        /// Right edge.
        to: Length,
        /// Intensity at the left edge, down positive.
        w: LineLoad,
        /// Intensity at the right edge.
        w_to: Option<LineLoad>,
    }
}

/// A load on a beam, down positive, per member unit.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Load(pub(crate) beam::Load);

#[pymethods]
impl Load {
    fn __reduce__(&self, py: Python<'_>) -> PyResult<Remade<LoadNumbers>> {
        let make = py.import("proofspan._core")?.getattr("_load")?.unbind();
        let numbers = of_load(&self.0)
            .ok_or_else(|| PyTypeError::new_err("a load that only a design makes has no pickle"))?;
        Ok((make, numbers))
    }

    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// A force at a place.
    #[staticmethod]
    fn point(at: &Bound<'_, PyAny>, force: &Bound<'_, PyAny>) -> PyResult<Self> {
        let fields: PointFields = arguments(at.py(), &[("at", at), ("force", force)])?;
        Ok(Self(beam::Load::point(fields.at, fields.force)))
    }

    /// A moment at a place, clockwise positive.
    #[staticmethod]
    fn moment(at: &Bound<'_, PyAny>, moment: &Bound<'_, PyAny>) -> PyResult<Self> {
        let fields: CoupleFields = arguments(at.py(), &[("at", at), ("moment", moment)])?;
        Ok(Self(beam::Load::moment(fields.at, fields.moment)))
    }

    /// A load along a part of the beam: uniform, or from `w` to `w_to`.
    #[staticmethod]
    #[pyo3(signature = (from_, to, w, w_to = None))]
    fn line(
        from_: &Bound<'_, PyAny>,
        to: &Bound<'_, PyAny>,
        w: &Bound<'_, PyAny>,
        w_to: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let mut given = vec![("from", from_), ("to", to), ("w", w)];
        given.extend(w_to.map(|w| ("w_to", w)));
        let f: LineFields = arguments(to.py(), &given)?;
        Ok(Self(beam::Load::line(f.from, f.to, f.w, f.w_to.unwrap_or(f.w))))
    }

    /// A free curvature along a part, positive where it bends as a sagging moment does.
    #[staticmethod]
    fn curvature(
        from_: &Bound<'_, PyAny>,
        to: &Bound<'_, PyAny>,
        kappa: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let given = [("from", from_), ("to", to), ("kappa", kappa)];
        let f: CurvatureFields = arguments(to.py(), &given)?;
        Ok(Self(beam::Load::curvature(f.from, f.to, f.kappa)))
    }

    /// A linear temperature gradient: how much warmer the bottom is than the top, the coefficient
    /// of thermal expansion, the depth.
    #[staticmethod]
    fn temperature(
        from_: &Bound<'_, PyAny>,
        to: &Bound<'_, PyAny>,
        bottom_less_top: &Bound<'_, PyAny>,
        expansion: &Bound<'_, PyAny>,
        depth: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let given = [
            ("from", from_),
            ("to", to),
            ("bottom_less_top", bottom_less_top),
            ("expansion", expansion),
            ("depth", depth),
        ];
        let f: GradientFields = arguments(to.py(), &given)?;
        let warm = beam::Load::temperature(f.from, f.to, f.bottom_less_top, f.expansion, f.depth);
        warm.map(Self).map_err(|e| raise(to.py(), &e))
    }

    /// Its kind and its parts: "point" (at, force), "moment" (at, moment), "line" (from, to, w, w),
    /// "curvature" (from, to, kappa, kappa).
    #[getter]
    fn parts(&self) -> (&'static str, Vec<Quantity>) {
        let q = |q: proofspan::units::Quantity| Quantity::of(q);
        match self.0 {
            beam::Load::Point { at, force } => ("point", vec![q(at.into()), q(force.into())]),
            beam::Load::Moment { at, moment } => ("moment", vec![q(at.into()), q(moment.into())]),
            beam::Load::Line { from, to, w_from, w_to } => {
                ("line", vec![q(from.into()), q(to.into()), q(w_from.into()), q(w_to.into())])
            }
            beam::Load::Curvature { from, to, kappa_from, kappa_to } => (
                "curvature",
                vec![q(from.into()), q(to.into()), q(kappa_from.into()), q(kappa_to.into())],
            ),
            _ => ("imposed", Vec::new()),
        }
    }

    fn __repr__(&self) -> String {
        let said = |template, values: Vec<Said>| Message::new(template, values).to_string();
        match self.0 {
            beam::Load::Point { at, force } => {
                said("Load(point {} at {})", vec![force.into(), at.into()])
            }
            beam::Load::Moment { at, moment } => {
                said("Load(moment {} at {})", vec![moment.into(), at.into()])
            }
            beam::Load::Line { from, to, w_from, w_to } => said(
                "Load(line {} to {} from {} to {})",
                vec![w_from.into(), w_to.into(), from.into(), to.into()],
            ),
            beam::Load::Curvature { from, to, kappa_from, kappa_to } => said(
                "Load(curvature {} to {} from {} to {})",
                vec![kappa_from.into(), kappa_to.into(), from.into(), to.into()],
            ),
            _ => "Load(imposed)".to_owned(),
        }
    }
}

proofspan::record! {
    /// A shear rigidity.
    pub struct ShearFields {
        /// G A_s.
        shear_rigidity: Force,
    }
}

proofspan::record! {
    /// A free curvature.
    pub struct CurvatureFields {
        /// Left edge.
        from: Length,
        /// Right edge.
        to: Length,
        /// The curvature.
        kappa: Curvature,
    }
}

proofspan::record! {
    /// A temperature gradient.
    pub struct GradientFields {
        /// Left edge.
        from: Length,
        /// Right edge.
        to: Length,
        /// How much warmer the bottom is.
        bottom_less_top: TemperatureChange,
        /// Coefficient of thermal expansion.
        expansion: ThermalExpansion,
        /// Depth.
        depth: Length,
    }
}

/// The exact actions of one load case. V = dM/dx; sagging moment, downward deflection and upward
/// reactions are positive.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Response(pub(crate) beam::Response);

impl Response {
    /// Rounding noise of an effect is zero: what a reader sees at a free end or a bearing.
    fn settled(&self, of: fn(&beam::Segment) -> beam::Poly) -> impl Fn(f64) -> f64 {
        let noise = NOISE * self.0.size_of(of);
        move |si| if si.abs() < noise { 0.0 } else { si }
    }
}

/// A function of places as a quantity for one place and a column for many.
pub(crate) fn along(
    x: &Bound<'_, PyAny>,
    kind: Kind,
    value: impl Fn(Length) -> Result<f64, proofspan::Error>,
) -> PyResult<Py<PyAny>> {
    let column = places(x, "x")?;
    let values: Result<Vec<f64>, proofspan::Error> =
        column.si.iter().map(|x| value(Length::from_si(*x))).collect();
    let values = values.map_err(|e| raise(x.py(), &e))?;
    let measure = Measure::of(kind);
    let one = !x.hasattr("__len__")? || x.is_instance_of::<PyString>();
    match values.as_slice() {
        [si] if one => Quantity { measure, si: *si }.into_py_any(x.py()),
        _ => Column { measure, si: values }.into_py_any(x.py()),
    }
}

#[pymethods]
impl Response {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// Shear at one place or many, just left or right of it.
    #[pyo3(signature = (x, side = "left"))]
    fn shear(
        &self,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
    ) -> PyResult<Py<PyAny>> {
        let side = self::side(side)?;
        let settled = self.settled(beam::Segment::shear);
        along(x, Kind::Force, |x| self.0.shear(x, side).map(|v| settled(v.si())))
    }

    /// Moment at one place or many, just left or right of it.
    #[pyo3(signature = (x, side = "left"))]
    fn moment(
        &self,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
    ) -> PyResult<Py<PyAny>> {
        let side = self::side(side)?;
        let settled = self.settled(beam::Segment::moment);
        along(x, Kind::Moment, |x| self.0.moment(x, side).map(|v| settled(v.si())))
    }

    /// Line load at one place or many, just left or right of it.
    #[pyo3(signature = (x, side = "left"))]
    fn line_load(
        &self,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
    ) -> PyResult<Py<PyAny>> {
        let side = self::side(side)?;
        along(x, Kind::LineLoad, |x| self.0.line_load(x, side).map(|v| v.si()))
    }

    /// Rotation at one place or many.
    fn rotation(&self, x: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let settled = self.settled(beam::Segment::rotation);
        along(x, Kind::Rotation, |x| self.0.rotation(x).map(|v| settled(v.si())))
    }

    /// Deflection at one place or many.
    fn deflection(&self, x: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let settled = self.settled(beam::Segment::deflection);
        along(x, Kind::Length, |x| self.0.deflection(x).map(|v| settled(v.si())))
    }

    /// The exact largest and smallest "shear", "moment" or "deflection", with place and side.
    #[pyo3(signature = (what, from_ = None, to = None))]
    fn extremes(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        from_: Option<&Bound<'_, PyAny>>,
        to: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        let from = from_.map_or(Ok(Length::ZERO), |x| place(x, "from_"))?;
        let to = to.map_or(Ok(self.0.length()), |x| place(x, "to"))?;
        let (kind, of) = one_of(
            "what",
            "an effect",
            what,
            &[
                ("shear", (Kind::Force, beam::Segment::shear as fn(&beam::Segment) -> _)),
                ("moment", (Kind::Moment, beam::Segment::moment)),
                ("deflection", (Kind::Length, beam::Segment::deflection)),
            ],
        )?;
        let found = self.0.extremes_of(from, to, of).map_err(|e| raise(py, &e))?;
        let settled = self.settled(of);
        let dict = PyDict::new(py);
        for (name, extreme) in [("max", found.max), ("min", found.min)] {
            let entry = PyDict::new(py);
            let si = settled(extreme.value);
            entry.set_item("value", Quantity { measure: Measure::of(kind), si })?;
            entry.set_item("at", Quantity::of(extreme.at.into()))?;
            entry.set_item("side", if extreme.side == Side::Left { "left" } else { "right" })?;
            dict.set_item(name, part("Extreme", entry)?)?;
        }
        Ok(part("Extremes", dict)?.unbind())
    }

    /// The reactions from left to right: place, force up positive, moment on the beam clockwise positive.
    #[getter]
    fn reactions(&self, py: Python<'_>) -> PyResult<Vec<Py<PyAny>>> {
        let (force, moment) =
            (self.settled(beam::Segment::shear), self.settled(beam::Segment::moment));
        let value = |kind, si| Quantity { measure: Measure::of(kind), si };
        self.0
            .reactions()
            .iter()
            .map(|r| {
                let dict = PyDict::new(py);
                dict.set_item("at", Quantity::of(r.at.into()))?;
                dict.set_item("force", value(Kind::Force, force(r.force.si())))?;
                dict.set_item("moment", value(Kind::Moment, moment(r.moment.si())))?;
                Ok(part("SupportForce", dict)?.unbind())
            })
            .collect()
    }

    /// Places where a load or a stiffness begins or ends, both ends of the beam included.
    #[getter]
    fn breakpoints(&self) -> Column {
        let si = self.0.breakpoints().map(Length::si).collect();
        Column { measure: Measure::of(Kind::Length), si }
    }

    /// Draws "shear", "moment" or "deflection" along the beam, extremes labelled; returns the Axes.
    #[pyo3(signature = (what = "moment", units = "SI", ax = None))]
    fn plot(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        #[pyo3(from_py_with = by_name::units)] units: &str,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        by(what)?;
        system(units)?;
        drawn(slf.py(), "response", (slf, what, units, ax))
    }

    fn __repr__(&self) -> String {
        let end = self.0.length();
        let v = self.0.shear_extremes(Length::ZERO, end);
        let m = self.0.moment_extremes(Length::ZERO, end);
        let (Ok(v), Ok(m)) = (v, m) else { return "Response()".to_owned() };
        let values: [proofspan::units::Quantity; 4] =
            [v.min.value.into(), v.max.value.into(), m.min.value.into(), m.max.value.into()];
        let mut page = Page::default();
        values.iter().for_each(|q| page.see(*q));
        let said =
            Message::new("Response(shear {} to {}, moment {} to {})", values.map(Said::from));
        said.on(&page).to_string()
    }
}

/// A map is read as one record with the fields that are there.
pub(crate) fn record<T: Read>(py: Python<'_>, entries: Vec<(&str, Node)>) -> PyResult<T> {
    let node = Node::map(entries.into_iter().filter(|e| e.1.value != Value::Null).collect());
    read_node(&node).map_err(|e| raise(py, &e))
}
