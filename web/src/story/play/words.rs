//! Plain words for what plays.

use film::{EntryView, KeptAt, turn_between};
use language::say;
use units::LengthUnit;

use crate::story::play::running_order::{RunningOrder, Turn};
use crate::story::words;

/// What is said of a cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Said {
    /// What is the matter, or that nothing is.
    pub(super) what: String,
    /// Why that is a rule, or why it is kept all the same.
    pub(super) why: String,
    /// Whether it is a finding to look at.
    pub(super) is_open: bool,
}

/// The entry in one line: where it is, what it shows, how long.
pub(super) fn entry(order: &RunningOrder, turn: &Turn) -> String {
    let shot = words::numbered(order.film(), turn.number, &turn.shot);
    format!("{shot}, {}", words::seconds(turn.lasts_s))
}

/// Which of all the cuts belongs to that second.
pub(super) fn which_cut(order: &RunningOrder, seconds: f64) -> Option<String> {
    order.cut_at(seconds).map(|cut| say!("Cut {} of {}", cut + 1, order.turns().len() - 1))
}

/// Why there is no picture of an entry.
pub(super) fn no_picture(order: &RunningOrder, turn: &Turn) -> String {
    let why = match turn.rehearsed.as_ref() {
        Err(why) => words::missing(order.film(), *why),
        Ok(rehearsal) => {
            let worst = rehearsal.result().worst();
            worst.map_or(say!("it cannot be framed from there"), film::SetupFinding::brief).to_owned()
        }
    };
    say!("No picture of this: {why}.")
}

/// A moment of all that plays, as wide at any time.
pub(super) fn moment(seconds: f64, lasts_s: f64) -> String {
    if lasts_s < 60.0 {
        return say!("{seconds:.1} s of {lasts_s:.1} s");
    }
    let clock = |seconds: f64| {
        let whole = libm::floor(seconds);
        format!("{:.0}:{:02.0}", libm::floor(whole / 60.0), whole % 60.0)
    };
    say!("{} of {}", clock(seconds), clock(lasts_s))
}

/// What is said of the cut after the entry at that place.
pub(super) fn cut(order: &RunningOrder, at: usize, unit: LengthUnit) -> Vec<Said> {
    let (Some(before), Some(next)) = (order.turns().get(at), order.turns().get(at + 1)) else {
        return Vec::new();
    };
    if before.scene.id != next.scene.id {
        return vec![Said::plain(say!("The scene changes here: place and time may be others."))];
    }
    let scene = &before.scene;
    let views = order.views_of(scene);
    let here = KeptAt::Cut(before.entry.id, next.entry.id);
    let mut found = film::check_cut(order.film(), scene, &views);
    found.retain(|placed| placed.at == here);
    let sorted = film::sort_findings(scene, found);
    let open = sorted.open.iter().map(|placed| Said {
        what: words::sentence_of(&placed.finding.to_finding(order.film(), unit).message),
        why: placed.finding.reason().to_owned(),
        is_open: true,
    });
    let kept = sorted.kept.iter().map(|(placed, kept)| Said {
        what: words::sentence_of(&placed.finding.to_finding(order.film(), unit).message),
        why: say!("Kept all the same: {}", kept.reason),
        is_open: false,
    });
    let said: Vec<Said> = open.chain(kept).collect();
    if !said.is_empty() {
        return said;
    }
    let of = |turn: &Turn| views.iter().find(|view| view.entry == turn.entry.id);
    vec![of(before).zip(of(next)).map_or_else(
        || Said::plain(say!("Nothing speaks against this cut.")),
        |(one, other)| nothing_found(one, other),
    )]
}

/// What is said of two neighbours that nothing was found about: with the figures, where they are of one person.
fn nothing_found(before: &EntryView, next: &EntryView) -> Said {
    let goes_on =
        before.shot.id == next.shot.id && (next.stretch_s.0 - before.stretch_s.1).abs() < ONE_MOMENT_S;
    if goes_on {
        return Said::plain(say!("The shot goes on: nothing is seen of this cut."));
    }
    let (Some([_, end]), Some([start, _])) = (before.seen, next.seen) else {
        return Said::plain(say!("One of the two cannot be framed, so nothing can be said of this cut."));
    };
    let same = before.subject.is_some() && before.subject == next.subject;
    let shares =
        end.figure_share.zip(start.figure_share).filter(|(one, other)| same && *one > 0.0 && *other > 0.0);
    shares.map_or_else(
        || Said::plain(say!("Nothing speaks against this cut.")),
        |(one, other)| Said {
            why: say!("Common practice: a turn of 30° is enough, or a size 1.8 times another.").to_owned(),
            ..Said::plain(&say!(
                "Nothing speaks against this cut: the view turns by {:.0}° and their size in the frame changes {:.1} \
                 times.",
                turn_between(&end, &start).to_deg(),
                one.max(other) / one.min(other)
            ))
        },
    )
}

/// Moments nearer to each other than this are one, seconds: less than a frame.
const ONE_MOMENT_S: f64 = 0.01;

impl Said {
    fn plain(what: &str) -> Self {
        Self { what: what.to_owned(), why: String::new(), is_open: false }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::story::play::running_order::tests::{lost, order, two_scenes};

    #[test]
    fn an_entry_is_told_in_one_line() {
        let order = order(&two_scenes());
        assert_eq!(entry(&order, &order.turns()[1]), "Scene 1, shot 2: medium of Mira, 2.5 s");
    }

    #[test]
    fn cuts_are_counted() {
        let order = order(&two_scenes());
        assert_eq!(which_cut(&order, 4.0).as_deref(), Some("Cut 2 of 2"));
    }

    #[test]
    fn a_moment_is_as_wide_at_any_time() {
        assert_eq!(moment(4.0, 9.5), "4.0 s of 9.5 s");
        assert_eq!(moment(5.9, 150.0), "0:05 of 2:30");
        assert_eq!(moment(65.0, 150.0), "1:05 of 2:30");
    }

    #[test]
    fn two_mediums_of_one_person_are_found_and_a_change_of_scene_is_told() {
        let order = order(&two_scenes());
        let said = cut(&order, 0, LengthUnit::Metres);
        assert!(said.iter().any(|said| said.is_open && said.what.contains("jump")), "{said:?}");
        let said = cut(&order, 1, LengthUnit::Metres);
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(
            said.iter().all(|said| !said.is_open && said.what.starts_with("The scene changes")),
            "{said:?}"
        );
        assert!(cut(&order, 2, LengthUnit::Metres).is_empty(), "nothing follows");
    }

    #[test]
    fn what_has_no_picture_says_why() {
        let order = order(&lost());
        assert_eq!(
            no_picture(&order, &order.turns()[0]),
            "No picture of this: somebody is not in the scene."
        );
    }
}
