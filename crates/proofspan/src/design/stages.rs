//! A test in several stages: each a design of its own on the same member, one after the other.

use std::sync::Arc;

use super::ranges::widen;
use super::{TestDesign, designed};
use crate::error::{Error, Issue};
use crate::source::{Write, validate};
use crate::spec::TestSpec;
use crate::units::{Message, Page};

/// Designs a test: scope, loads, edition, beam, target, layout, rig, shoring, schedule.
///
/// A stop does not prevent the design: the number is there, then [`TestDesign::schedule`] and
/// [`judge`](crate::judge) refuse, and reports and trees name the stops in place of the steps.
///
/// # Errors
/// Every problem that can be found before the first step that has one.
pub fn design(spec: impl Into<Arc<TestSpec>>) -> Result<TestDesign, Error> {
    let spec = spec.into();
    let page = Page::new(spec.display.system());
    told(spec).map_err(|error| error.on(&page))
}

/// The same; a refusal speaks SI.
fn told(spec: Arc<TestSpec>) -> Result<TestDesign, Error> {
    validate(&*spec)?;
    if let Some(day) = spec.records.test_day() {
        Error::check(spec.records.after(day))?;
    }
    let mut design =
        if spec.stages.is_empty() { staged(Arc::clone(&spec), None)? } else { all(&spec)? };
    design.lift()?;
    design.say();
    Ok(design)
}

/// One stage, with the ranges of its inputs.
fn staged(spec: Arc<TestSpec>, earlier: Option<&TestDesign>) -> Result<TestDesign, Error> {
    let ranged = spec.ranged();
    let mut design = designed(spec, None, earlier.map(|d| &d.target))?;
    if ranged {
        widen(&mut design)?;
    }
    Ok(design)
}

/// Where a path of the document of one stage stands in the document: in the part that the stage gives
/// itself, else where it is.
fn home(spec: &TestSpec, index: usize, path: &str) -> String {
    let Some(stage) = index.checked_sub(1).and_then(|i| spec.stages.get(i)) else {
        return path.to_owned();
    };
    let own = [
        ("scope.doubt", true),
        ("layout", stage.layout.is_some()),
        ("rig", stage.rig.is_some()),
        ("shoring", stage.shoring.is_some()),
        ("protocol", stage.protocol.is_some()),
    ];
    let under = |part: &str| {
        path.strip_prefix(part).is_some_and(|r| r.is_empty() || r.starts_with(['.', '[']))
    };
    match own.iter().find(|(part, own)| *own && under(part)) {
        Some(_) => {
            let path = path.strip_prefix("scope.").unwrap_or(path);
            format!("stages[{}].{path}", index - 1)
        }
        None => path.to_owned(),
    }
}

/// Every stage of a document.
///
/// # Errors
/// The problems of every stage at once, each under its path in the document; one that several stages
/// share is told once.
fn all(spec: &Arc<TestSpec>) -> Result<TestDesign, Error> {
    let mut found: Vec<TestDesign> = Vec::with_capacity(spec.stages.len() + 1);
    let mut issues: Vec<Issue> = Vec::new();
    let mut cause = None;
    for index in 0..=spec.stages.len() {
        // without ranges the first stage reads nothing of the later ones: the document as it is will do
        let whole = (index == 0 && !spec.ranged()).then(|| Arc::clone(spec));
        let Some(one) = whole.or_else(|| spec.stage(index).map(Arc::new)) else { continue };
        match staged(one, found.first()) {
            Ok(design) => found.push(design),
            Err(error) => {
                cause.get_or_insert(error.cause);
                for mut issue in error.issues {
                    issue.path = home(spec, index, &issue.path);
                    if !issues.contains(&issue) {
                        if let Some(stage) = index.checked_sub(1).and_then(|i| spec.stages.get(i)) {
                            issue.message =
                                issue.message.clone().after(format!("stage {}: ", stage.name));
                        }
                        issues.push(issue);
                    }
                }
            }
        }
    }
    if let Some(cause) = cause {
        return Err(Error { cause, issues });
    }
    let mut stages = found.into_iter();
    let Some(mut first) = stages.next() else { return staged(Arc::clone(spec), None) };
    first.spec = Arc::clone(spec);
    for (i, (mut stage, own)) in stages.zip(&spec.stages).enumerate() {
        let said = |message: &Message| message.clone().after(format!("stage {}: ", own.name));
        for stop in &mut stage.stops {
            stop.path = home(spec, i + 1, &stop.path).into();
            let same = |s: &&mut crate::verdict::Stop| s.slug == stop.slug && s.path == stop.path;
            if !first.stops.iter_mut().any(|s| same(&s)) {
                first
                    .stops
                    .push(crate::verdict::Stop { message: said(&stop.message), ..stop.clone() });
            }
        }
        for note in &mut stage.notes {
            note.path = home(spec, i + 1, &note.path).into();
            // of one code and path with other words both are told
            if !first.notes.contains(note) {
                first
                    .notes
                    .push(crate::verdict::Note { message: said(&note.message), ..note.clone() });
            }
        }
        first.later.push((own.name.clone(), stage));
    }
    Ok(first)
}
