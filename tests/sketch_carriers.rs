//! The sketch is read back from the report: every carrier is drawn as what it is, where the document
//! puts it, each mark stands once and apart from the others. Expected places are those of the document;
//! piles by their footprint and gap, layers and depth by weight over unit weight, width and length.

use proofspan::report::{html, markdown};
use proofspan::units::{KN, M};
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn document(name: &str) -> Value {
    let path = format!("examples/scenarios/{name}.test.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn made(name: &str, change: impl FnOnce(&mut Value)) -> TestDesign {
    let mut doc = document(name);
    change(&mut doc);
    design(TestSpec::from_json(&doc.to_string()).unwrap()).unwrap()
}

/// One element of a picture.
struct Drawn {
    class: String,
    mark: String,
    text: String,
    tag: String,
    numbers: Vec<(String, f64)>,
    path: String,
}

impl Drawn {
    fn get(&self, name: &str) -> f64 {
        self.numbers.iter().find(|n| n.0 == name).unwrap_or_else(|| panic!("{name}")).1
    }

    /// Left, right, top, bottom.
    fn sides(&self) -> [f64; 4] {
        match &*self.tag {
            "rect" => {
                let (x, y) = (self.get("x"), self.get("y"));
                [x, x + self.get("width"), y, y + self.get("height")]
            }
            "ellipse" => {
                let (x, y, a, b) = (self.get("cx"), self.get("cy"), self.get("rx"), self.get("ry"));
                [x - a, x + a, y - b, y + b]
            }
            "line" => {
                let (a, b) = (self.get("y1"), self.get("y2"));
                [self.get("x1"), self.get("x2"), a.min(b), a.max(b)]
            }
            _ => {
                let mut at = self.path.split([' ', 'M']).filter(|p| !p.is_empty());
                let mut next = || at.next().unwrap().parse::<f64>().unwrap();
                let (x, y) = (next(), next());
                [x, x, y, y]
            }
        }
    }
}

fn elements(svg: &str) -> Vec<Drawn> {
    let attribute = |tag: &str, name: &str| {
        let after = tag.split_once(&format!(" {name}=\""))?.1;
        Some(after.split_once('"')?.0.to_owned())
    };
    svg.split('<')
        .skip(1)
        .filter_map(|one| {
            let (tag, text) = one.split_once('>')?;
            let names =
                ["x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "rx", "ry", "width", "height"];
            let number = |n: &&str| Some(((*n).to_owned(), attribute(tag, n)?.parse().ok()?));
            Some(Drawn {
                class: attribute(tag, "class").unwrap_or_default(),
                mark: attribute(tag, "data-mark").unwrap_or_default(),
                text: text.to_owned(),
                tag: tag.split(' ').next()?.to_owned(),
                numbers: names.iter().filter_map(number).collect(),
                path: attribute(tag, "d").unwrap_or_default(),
            })
        })
        .collect()
}

/// The elevations of a report, one a stage.
fn elevations(d: &TestDesign) -> Vec<Vec<Drawn>> {
    let page = html(d, None).unwrap();
    let pictures = page.split("<svg").skip(1).map(|p| p.split_once("</svg>").unwrap().0);
    pictures.map(elements).filter(|e| e.iter().any(|s| s.class == "test")).collect()
}

/// Places in metres from the left end of the member under test, and the scale.
struct Scale {
    left: f64,
    per_metre: f64,
    top: f64,
}

impl Scale {
    fn of(d: &TestDesign, all: &[Drawn]) -> Self {
        let [left, right, top, _] = all.iter().find(|s| s.class == "test").unwrap().sides();
        Self { left, per_metre: (right - left) / d.target.beam.length().to(M), top }
    }

    fn at(&self, px: f64) -> f64 {
        (px - self.left) / self.per_metre
    }
}

fn near(drawn: f64, computed: f64) {
    assert!((drawn - computed).abs() < 0.01, "{drawn} drawn for {computed}");
}

/// The class, and what of it stands where: from, to, height above the member.
fn wanted(d: &TestDesign) -> Vec<(&'static str, f64, f64, Option<f64>)> {
    let doc: Value = serde_json::from_str(&d.spec.to_json()).unwrap();
    let carriers = match &doc["layout"]["carrier"] {
        Value::Array(all) => all.clone(),
        one => vec![one.clone()],
    };
    let metres = |v: &Value| {
        let v = v.get("value").unwrap_or(v);
        let (number, unit) = v.as_str().unwrap().split_once(' ').unwrap();
        let scale = match unit {
            "m" => 1.0,
            "mm" => 1e-3,
            "cm" => 1e-2,
            "ft" => 0.3048,
            "in" => 0.0254,
            other => panic!("{other}"),
        };
        number.parse::<f64>().unwrap() * scale
    };
    let mut all = Vec::new();
    for used in d.layout.carriers.iter().filter(|c| c.force.0.si() > 0.0) {
        let c = &carriers[used.carrier];
        let (at, force) = (used.at.to(M), used.force.0.to(KN));
        let ends = || (metres(&c["from"]), metres(&c["to"]));
        match c["kind"].as_str().unwrap() {
            "jack_line" => all.push(("jack", at, at, None)),
            "spreader" => {
                all.push(("jack", at, at, None));
                all.push(("spreader", used.from.to(M), used.to.to(M), None));
                for x in c["contacts"].as_array().unwrap() {
                    let x = metres(x);
                    all.push(("contact", x - 0.0625, x + 0.0625, None));
                }
            }
            "pad" => {
                all.push(("jack", at, at, None));
                all.push(("pad", ends().0, ends().1, None));
            }
            "bags" => {
                let (pile, gap) = (metres(&c["pile"]), metres(&c["gap"]));
                let piles = ((ends().1 - ends().0 + gap) / (pile + gap) + 1e-9).floor();
                // 14 kN/m³ in every document here
                let high = force / (14.0 * metres(&c["width"]) * pile * piles);
                let mut x = ends().0;
                for _ in 0..piles as usize {
                    all.push(("pile", x, x + pile, Some(high)));
                    for i in 1..(high / metres(&c["layer"])).round() as usize {
                        all.push(("layer", x, x + pile, Some(i as f64 * metres(&c["layer"]))));
                    }
                    x += pile + gap;
                }
            }
            "water" => {
                all.push(("basin", ends().0, ends().1, Some(metres(&c["rim"]))));
                let depth = used.depth.unwrap().to(M);
                // the member gives way: a little more or less stands in the basin than on a level one
                let level = force / (9.81 * metres(&c["width"]) * (ends().1 - ends().0));
                assert!((level / depth - 1.0).abs() < 0.1, "{depth} {level}");
                all.push(("water", ends().0, ends().1, Some(depth)));
            }
            "wheels" => {
                let first = metres(&c["at"]);
                let behind = c["behind"].as_array().unwrap().iter().map(|x| first + metres(x));
                all.extend(
                    std::iter::once(first)
                        .chain(behind)
                        .map(|x| ("wheel", x - 0.125, x + 0.125, None)),
                );
            }
            other => panic!("{other}"),
        }
    }
    all
}

const BRINGS: [&str; 9] =
    ["jack", "spreader", "contact", "pad", "pile", "layer", "basin", "water", "wheel"];

fn held(d: &TestDesign, all: &[Drawn]) {
    let scale = Scale::of(d, all);
    let mut wanted = wanted(d);
    let mut drawn: Vec<(&str, [f64; 4])> = all
        .iter()
        .filter_map(|s| Some((*BRINGS.iter().find(|b| **b == s.class)?, s.sides())))
        .collect();
    assert_eq!(drawn.len(), wanted.len(), "{wanted:?} {drawn:?}");
    wanted.sort_by(|a, b| (a.0, a.1, a.3).partial_cmp(&(b.0, b.1, b.3)).unwrap());
    drawn.sort_by(|a, b| (a.0, a.1[0], -a.1[2]).partial_cmp(&(b.0, b.1[0], -b.1[2])).unwrap());
    for ((class, from, to, high), (drawn, [left, right, top, bottom])) in wanted.iter().zip(&drawn)
    {
        assert_eq!(class, drawn);
        near(scale.at(*left), *from);
        near(scale.at(*right), *to);
        if let Some(high) = high {
            near((scale.top - top) / scale.per_metre, *high);
            if *class != "layer" {
                near(bottom - scale.top, 0.0);
            }
        }
    }
    // what loads the member: arrows in one scale, the sum is the force of the layout
    let arrow = |mark: &str| {
        let found = all.iter().find(|s| s.class == "force" && s.mark == mark);
        found.map(|s| s.get("y2") - s.get("y1"))
    };
    let on_member = all.iter().filter(|s| BRINGS.contains(&&*s.class) && !s.mark.is_empty());
    let sum: f64 = on_member.filter_map(|s| arrow(&s.mark)).sum();
    let forces = || {
        let rig = d.rig.pulls.iter().map(|p| p.force.abs().si());
        let weights = d.spec.rig.counterweights.iter().map(|w| w.weight().si());
        rig.chain(weights)
            .chain(d.shoring.catches.iter().map(|c| c.force.si()))
            .chain(d.layout.lines.iter().map(|l| l.force.0.si()))
            .chain(d.rig.reactions.iter().flat_map(|r| r.anchors.iter().map(|a| a.force.si())))
    };
    let weights = d.rig.reactions.iter().any(|r| r.response.is_some());
    if weights || d.spec.rig.counterweights.is_empty() {
        let most = forces().fold(0.0, f64::max);
        let ratio = d.force().0.si() / most;
        assert!((sum / arrow("scale").unwrap() - ratio).abs() < 0.01, "{sum} {ratio}");
    }
}

/// Every mark is written once, names one shape, is one row of the table, and stands on no other mark
/// and on no arrow.
fn marked(all: &[Drawn], page: &str) {
    let texts: Vec<&Drawn> = all.iter().filter(|s| s.class == "mark").collect();
    let area = |t: &Drawn| {
        let half = 3.0 * t.text.len() as f64;
        let (x, y) = (t.get("x"), t.get("y"));
        [x - half, x + half, y - 8.0, y]
    };
    let meet = |a: [f64; 4], b: [f64; 4]| a[0] < b[1] && b[0] < a[1] && a[2] < b[3] && b[2] < a[3];
    for (i, one) in texts.iter().enumerate() {
        assert!(texts.iter().skip(i + 1).all(|t| t.text != one.text), "{} twice", one.text);
        for other in texts.iter().skip(i + 1) {
            assert!(!meet(area(one), area(other)), "{} on {}", one.text, other.text);
        }
        for arrow in all.iter().filter(|s| s.class == "force") {
            let [x, _, top, bottom] = arrow.sides();
            let on = meet(area(one), [x - 3.0, x + 3.0, top, bottom]);
            assert!(!on, "{} on the arrow of {}", one.text, arrow.mark);
        }
        assert!(page.contains(&format!("<td>{}</td>", one.text)), "{}", one.text);
        let shapes = all.iter().filter(|s| s.mark == one.text && s.class != "force");
        assert_eq!(shapes.count(), 1, "{}", one.text);
    }
    for shape in all.iter().filter(|s| !s.mark.is_empty() && s.mark != "scale") {
        assert!(texts.iter().any(|t| t.text == shape.mark), "{}", shape.mark);
    }
}

fn read_back(d: &TestDesign) {
    let page = html(d, None).unwrap();
    let pictures = elevations(d);
    let stages: Vec<&TestDesign> =
        std::iter::once(d).chain(d.later().iter().map(|(_, stage)| stage)).collect();
    assert_eq!(pictures.len(), stages.len());
    for (all, stage) in pictures.iter().zip(stages) {
        held(stage, all);
        marked(all, &page);
    }
}

#[test]
fn the_sketch_of_every_shipped_scenario() {
    for name in
        ["terrace_strip", "gallery_beam", "archive_floor", "classroom_strip", "station_canopy"]
    {
        read_back(&made(name, |_| {}));
    }
}

#[test]
fn the_sketch_of_a_pad_of_wheels_and_of_a_mix() {
    read_back(&made("gallery_beam", |d| {
        d["layout"]["carrier"] = json!({ "kind": "pad", "from": "3.2 m", "to": "5.8 m" });
    }));
    let wheels = made("classroom_strip", |d| {
        d["layout"]["carrier"] = json!({ "kind": "wheels", "at": "1.5 m", "behind": ["1.2 m"] });
    });
    read_back(&wheels);
    assert!(markdown(&wheels, None).unwrap().contains("all axles"));
    read_back(&made("gallery_beam", |d| {
        d["layout"]["carrier"] = json!([
            { "kind": "spreader", "contacts": ["3.5 m", "5.5 m"] },
            { "kind": "bags", "from": "6.2 m", "to": "8.6 m", "pile": "0.6 m", "gap": "0.1 m",
              "width": "0.9 m", "unit_weight": "14 kN/m^3", "layer": "85 mm", "most_layers": 4, "layers": 1 },
            { "kind": "water", "from": "1.0 m", "to": "2.6 m", "width": "0.9 m", "rim": "0.5 m",
              "freeboard": "0.1 m", "depth": "0.25 m" },
        ]);
    }));
}

/// The words are those of what stands there: no jack where none is, one layer is one.
#[test]
fn words_follow_the_kind_of_the_carrier() {
    for (name, all) in [("station_canopy", "all water"), ("classroom_strip", "all piles")] {
        let text = markdown(&made(name, |_| {}), None).unwrap();
        assert!(text.contains(&format!("Load of the member, {all}")), "{name}");
        for wrong in ["all jacks", "per jack", "under the jacks", "jack or contact", "red: jacks"] {
            assert!(!text.contains(wrong), "{name}: {wrong}");
        }
        assert!(!text.contains("| 1 layers") && !text.contains(" 1 layers"), "{name}");
    }
    let bags = markdown(&made("classroom_strip", |_| {}), None).unwrap();
    assert!(bags.contains("pile of bags or blocks") && bags.contains("K1.1"));
    let water = markdown(&made("station_canopy", |_| {}), None).unwrap();
    assert!(water.contains("water in a basin") && water.contains("H1"));
    let jacks = markdown(&made("terrace_strip", |_| {}), None).unwrap();
    assert!(jacks.contains("Load of the member, all jacks") && jacks.contains("per jack, most"));
}
