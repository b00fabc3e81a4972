//! The seconds of a cut: are its shots planned as long as it needs them, and is each view there long enough to be read?

use std::collections::BTreeMap;

use super::CutFinding;
use super::neighbours::{NO_GAP_S, goes_on};
use crate::cut_view::EntryView;
use crate::id::ShotId;
use crate::scene::{Scene, Stretch};
use crate::shot::Shot;

/// What goes beyond the end of a shot by less, seconds, is not missed: chosen, as words tell tenths and as it is a frame or
/// two.
const LEAST_BEYOND_S: f64 = 0.1;
/// A new view needs half a second to be read: common practice.
const READ_S: f64 = 0.5;
/// So many shorter views in a row are a montage: common practice that one is read as a whole, the number is chosen, as two
/// may still be a slip of the hand.
const MONTAGE: usize = 3;

/// A shot of which an entry of the cut shows more than is planned. Of what lies beyond its end nothing is seen.
pub(super) fn planned_short(scene: &Scene, shot: &Shot) -> Option<CutFinding> {
    let of_shot = scene.cut.iter().filter(|entry| entry.shot == shot.id);
    let needs_s = of_shot.filter_map(|entry| entry.stretch.map(Stretch::to_s)).reduce(f64::max)?;
    let planned_s = shot.planned_s;
    (needs_s >= planned_s + LEAST_BEYOND_S).then_some(CutFinding::PlannedShort { needs_s, planned_s })
}

/// Shots of which the cut of those views shows too little at once to be read, and how much that is, seconds.
///
/// Entries that go on where the one before left off are one view. Of those that show nothing at all another finding tells.
pub(super) fn shown_briefly(views: &[EntryView]) -> BTreeMap<ShotId, f64> {
    let shows_s = |view: &EntryView| view.stretch_s.1 - view.stretch_s.0;
    let as_seen = views.chunk_by(goes_on).filter_map(|views| {
        let shown_s: f64 = views.iter().map(shows_s).sum();
        Some((views.first()?.shot.id, shown_s)).filter(|_| shown_s > 0.0)
    });
    let as_seen: Vec<(ShotId, f64)> = as_seen.collect();
    let is_brief = |(_, shown_s): &(ShotId, f64)| *shown_s < READ_S - NO_GAP_S;
    let runs = as_seen.chunk_by(|one, next| is_brief(one) == is_brief(next));
    let mut least = BTreeMap::new();
    for (shot, shown_s) in runs.filter(|run| run.len() < MONTAGE).flatten().filter(|seen| is_brief(seen)) {
        least.entry(*shot).and_modify(|least: &mut f64| *least = least.min(*shown_s)).or_insert(*shown_s);
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::film::Film;
    use crate::findings::cut::example::{
        film, film_cut, finds, found, level, shot_id, stretched, two, views,
    };
    use crate::findings::{Severity, mends};
    use crate::id::FreshIds;
    use crate::scene::KeptAt;
    use units::LengthUnit;

    /// Two shots of 4 s from two sides, the first shown so.
    fn showing(from_s: f64, to_s: f64) -> Film {
        stretched(film(two(), vec![level(1, 180.0, 2.0), level(2, 230.0, 4.0)]), &[(from_s, to_s)])
    }

    #[test]
    fn a_stretch_beyond_the_end_of_its_shot_asks_for_more_of_it() {
        for from_s in [0.0, 5.0] {
            let film = showing(from_s, 9.0);
            let at_shot = found(&film).into_iter().filter(|placed| placed.at == KeptAt::Shot(shot_id(1)));
            let of_shot: Vec<CutFinding> = at_shot.map(|placed| placed.finding).collect();
            let [finding] = of_shot[..] else { panic!("{of_shot:?}") };
            assert_eq!(finding, CutFinding::PlannedShort { needs_s: 9.0, planned_s: 4.0 });
            let said = finding.to_finding(&film, LengthUnit::Metres);
            assert_eq!(said.severity, Severity::Warns);
            assert_eq!(said.message, "the cut needs 9.0 s of it, and 4.0 s are planned");
        }
    }

    #[test]
    fn of_several_stretches_the_last_end_counts_and_what_is_never_cut_in_counts_not() {
        let shot = || vec![level(1, 180.0, 2.0)];
        let twice = stretched(film_cut(two(), shot(), &[1, 1]), &[(4.0, 6.0), (1.0, 5.0)]);
        let short = found(&twice).into_iter().filter(|placed| placed.finding.rule() == "planned_short");
        let short: Vec<CutFinding> = short.map(|placed| placed.finding).collect();
        assert_eq!(short, [CutFinding::PlannedShort { needs_s: 6.0, planned_s: 4.0 }]);
        assert!(!finds(&film_cut(two(), shot(), &[]), "planned_short"));
    }

    #[test]
    fn a_stretch_to_the_end_of_its_shot_or_a_frame_beyond_it_has_all_that_it_needs() {
        let short = |from_s: f64, to_s: f64| finds(&showing(from_s, to_s), "planned_short");
        assert!(!short(1.0, 4.0) && !short(3.8, 3.8 + 0.2) && !short(1.0, 4.04) && short(1.0, 4.2));
        assert!(!finds(&film(two(), vec![level(1, 180.0, 2.0)]), "planned_short"), "all of it as planned");
    }

    #[test]
    fn a_shot_is_planned_as_long_as_the_cut_needs_it() {
        let mut film = showing(5.0, 9.0);
        let short = found(&film).into_iter().find(|placed| placed.finding.rule() == "planned_short");
        let fresh = &mut FreshIds::starting_at(100);
        let offered = mends(&film, &film.scenes[0], &views(&film), &short.expect("it is short"), fresh);
        let [mend] = &offered[..] else { panic!("{offered:?}") };
        assert_eq!(mend.words, "shot 1: it is planned 9.0 s long");
        film.apply(mend.command.clone()).expect("it can be made");
        assert!(!finds(&film, "planned_short") && (film.scenes[0].cut_s() - 8.0).abs() < 1e-12);
    }

    /// The numbers of the shots that are shown too briefly, where shots from either side take turns for so long each.
    fn brief(seconds: &[f64]) -> Vec<u64> {
        let sides = [180.0, 230.0].into_iter().cycle();
        let shots = (1..).zip(sides).zip(seconds);
        let shots: Vec<Shot> = shots.map(|((number, side), _)| level(number, side, 2.0)).collect();
        let stretches: Vec<(f64, f64)> = seconds.iter().map(|seconds| (1.0, 1.0 + seconds)).collect();
        let found = found(&stretched(film(two(), shots), &stretches)).into_iter();
        let brief = found.filter(|placed| placed.finding.rule() == "shown_briefly");
        brief
            .map(|placed| {
                assert_eq!(placed.finding.severity(), Severity::Notes);
                let KeptAt::Shot(shot) = placed.at else { panic!("{placed:?}") };
                shot.number()
            })
            .collect()
    }

    #[test]
    fn a_view_of_less_than_half_a_second_between_longer_ones_is_not_read() {
        assert_eq!(brief(&[2.0, 0.48, 2.0]), [2]);
        assert_eq!(brief(&[2.0, 0.5, 2.0]), [0; 0]);
        assert_eq!(brief(&[0.3, 2.0, 0.3]), [1, 3], "as the scene begins and as it ends");
        assert_eq!(brief(&[0.2, 0.15]), [1, 2]);
    }

    #[test]
    fn three_brief_views_in_a_row_are_a_montage_and_two_are_not() {
        assert_eq!(brief(&[2.0, 0.2, 0.3, 0.2, 2.0]), [0; 0]);
        assert_eq!(brief(&[2.0, 0.2, 0.3, 2.0]), [2, 3]);
        assert_eq!(brief(&[0.2, 0.3, 0.2, 2.0, 0.4, 2.0]), [5]);
    }

    #[test]
    fn entries_that_go_on_are_one_view_and_the_shortest_of_a_shot_is_told() {
        let shots = || vec![level(1, 180.0, 2.0), level(2, 230.0, 4.0)];
        let split = film_cut(two(), shots(), &[1, 1, 2]);
        assert!(!finds(&stretched(split.clone(), &[(0.0, 0.3), (0.3, 0.6)]), "shown_briefly"));
        assert!(finds(&stretched(split, &[(0.0, 0.2), (0.2, 0.4)]), "shown_briefly"));
        let again = film_cut(two(), shots(), &[1, 2, 1, 2]);
        let again = stretched(again, &[(0.0, 0.4), (0.0, 2.0), (2.0, 2.25)]);
        let brief = found(&again).into_iter().filter(|placed| placed.finding.rule() == "shown_briefly");
        let brief: Vec<String> =
            brief.map(|placed| placed.finding.to_finding(&again, LengthUnit::Metres).message).collect();
        assert_eq!(brief, ["the cut shows it for 0.25 s at once"]);
    }

    #[test]
    fn what_is_cut_short_to_nothing_is_told_once() {
        assert!(!finds(&showing(5.0, 9.0), "shown_briefly"));
    }
}
