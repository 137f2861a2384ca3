//! The workings of every published case, worked out again from their own operands.

use crate::answers::{ShownLaw, assert_sound};
use acceptance::cases;
use acceptance::figures::{consultant, list_at};
use acceptance::replay;
use acceptance::server::with_server;

#[test]
fn every_step_of_every_published_case_replays() {
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for case in cases::all() {
            let answer = client.calculate(&case.path, &case.request);
            assert_sound(&case.request, &answer);
            law.assert_states(&answer);
        }
    });
}

/// The evaluator must be able to say no to the real thing: each figure of an answer, changed, is found out.
#[test]
fn a_changed_figure_does_not_replay() {
    with_server(|client| {
        let request = consultant();
        let answer = client.compare(&request);
        let figures = replay::figures(&answer);
        assert!(figures.len() > 30, "{figures:?}");
        for pointer in figures {
            let mut changed = answer.clone();
            if let Some(figure) = changed.pointer_mut(&pointer) {
                *figure = "123456.78".into();
            }
            assert!(!replay::faults(&request, &changed).is_empty(), "{pointer} was changed unseen");
        }
        for index in 0..list_at(&answer, "/workings").len() {
            let mut changed = answer.clone();
            changed["workings"][index]["result"] = "123456.78".into();
            assert!(!replay::faults(&request, &changed).is_empty(), "step {index} was changed unseen");
        }
    });
}
