//! The hours of a calendar day by where the sun stands: its nights, its glow, its low sun, its days.
//!
//! The day is cut wherever the sun crosses an elevation or the meridian, and each piece is told by where the sun stands in it.
//! So nothing asks for a sunset that comes after its sunrise by the clock: where the sun sets after midnight, a day begins with
//! the end of the evening before.

use super::pieces::{Piece, pieces, stretches};
use super::{DAY_MIN, DaySpan, Daylight};
use crate::scene::TimeOfDay;
use crate::sun::{AT_CIVIL_TWILIGHT_DEG, AT_THE_HORIZON_DEG, UP_TO_GOLDEN_HOUR_DEG, turn};

/// To how many minutes the sun's crossings are searched: chosen, as the sun then moves a 4000th of a degree.
const WITHIN_MIN: f64 = 0.001;

/// Where the sun stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Standing {
    height: Height,
    half: Half,
}

/// How high its centre is, without the air, whatever stands around the place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Height {
    /// Below civil twilight.
    Night,
    /// Below the horizon, and there is light to see by.
    Glow,
    /// No higher than golden hour has it.
    Low,
    /// Higher.
    High,
}

/// In which half of the sky it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Half {
    /// From its lowest to its highest.
    East,
    /// From there on.
    West,
}

impl Standing {
    fn of(azimuth_deg: f64, true_elevation_deg: f64) -> Self {
        let height = match true_elevation_deg {
            degrees if degrees < AT_CIVIL_TWILIGHT_DEG => Height::Night,
            degrees if degrees < AT_THE_HORIZON_DEG => Height::Glow,
            degrees if degrees <= UP_TO_GOLDEN_HOUR_DEG => Height::Low,
            _ => Height::High,
        };
        let half = if azimuth_deg.rem_euclid(360.0) < 180.0 { Half::East } else { Half::West };
        Self { height, half }
    }

    fn is_up(self) -> bool {
        match self.height {
            Height::Low | Height::High => true,
            Height::Night | Height::Glow => false,
        }
    }
}

impl Daylight {
    /// When the calendar day has the light of an hour: from 0 to 1440 minutes of its clock, or to 2880 if the day after is known
    /// as well, in order; empty if that does not come.
    ///
    /// Night is below civil twilight. Day is while the sun is up over a level horizon, morning and afternoon its halves in the
    /// east and in the west. In golden hour the sun shines on the place, from no higher than 6°. Dawn and dusk are what is
    /// between night and the sun on the place, in the east and in the west. Where no night parts the evening's glow from the
    /// morning's, or no day the morning's from the evening's, it is one, and both dawn and dusk.
    ///
    /// # Source
    /// Civil twilight by its definition. Golden hour up to 6° is common practice.
    pub(crate) fn hours_of(&self, time: TimeOfDay) -> Vec<DaySpan> {
        let course = self.standings();
        let up_in = |half: Half| stretches(&course, |sun: &Standing| sun.is_up() && sun.half == half);
        let spans = match time {
            TimeOfDay::Dawn => self.glow(&course, Half::East),
            TimeOfDay::Morning => up_in(Half::East),
            TimeOfDay::Day => stretches(&course, |sun| sun.is_up()),
            TimeOfDay::Afternoon => up_in(Half::West),
            TimeOfDay::GoldenHour => {
                let low = stretches(&course, |sun| sun.height != Height::High);
                let bright = &self.parts.bright;
                let lit = |low: DaySpan| bright.iter().filter_map(move |bright| common(*bright, low));
                low.into_iter().flat_map(lit).collect()
            }
            TimeOfDay::Dusk => self.glow(&course, Half::West),
            TimeOfDay::Night => stretches(&course, |sun| sun.height == Height::Night),
        };
        spans.into_iter().filter_map(|span| self.on_the_day(span)).collect()
    }

    /// When the calendar day has light to see by: all but its night, from 0 to 1440 minutes of its clock, or to 2880 if the day
    /// after is known as well, in order.
    pub fn light_spans(&self) -> Vec<DaySpan> {
        let light = stretches(&self.standings(), |sun| sun.height != Height::Night);
        light.into_iter().filter_map(|span| self.on_the_day(span)).collect()
    }

    /// When the light to see by ends that there is at a minute of the day, or that comes after it: civil dusk, which may be after
    /// the next midnight. None where no more of it ends; the light that comes after that midnight is another day's.
    pub fn light_ends_min(&self, minute: f64) -> Option<f64> {
        let course = self.standings();
        let known_min = course.last()?.span.to_min;
        let light = stretches(&course, |sun| sun.height != Height::Night);
        let of_day = light.iter().filter(|span| span.from_min < DAY_MIN);
        let ends_min = of_day.map(|span| span.to_min).find(|ends_min| self.shown(*ends_min) >= minute)?;
        (ends_min < known_min).then(|| self.shown(ends_min))
    }

    /// When the light to see by comes again after the midnight that ends the day; none if the day after is not known, or if the
    /// light lasts over that midnight.
    pub fn next_light_min(&self) -> Option<f64> {
        self.light_spans().into_iter().map(|span| span.from_min).find(|minute| *minute > DAY_MIN)
    }

    /// Where the sun stands, as long as it is known, by the clock that nobody changes.
    fn standings(&self) -> Vec<Piece<Standing>> {
        let of = |minute: f64| {
            let sun = self.at(minute);
            Standing::of(sun.azimuth.to_deg(), sun.true_elevation.to_deg())
        };
        let directions = &self.parts.directions_deg;
        let known = directions
            .iter()
            .enumerate()
            .map(|(at, (azimuth, elevation))| (self.minute_of(at), Standing::of(*azimuth, *elevation)));
        // A sun that turns between two positions may just reach an elevation there.
        let turns = directions.windows(3).enumerate().filter_map(|(at, three)| {
            let [(_, left), (_, middle), (_, right)] = three else { return None };
            let [from, there, to] = [at, at + 1, at + 2].map(|at| self.minute_of(at));
            let is_turn = (middle - left) * (right - middle) <= 0.0;
            is_turn.then(|| turn((from, *left), (there, *middle), (to, *right)).clamp(from, to))
        });
        let mut points: Vec<_> = known.chain(turns.map(|minute| (minute, of(minute)))).collect();
        points.sort_by(|one, other| one.0.total_cmp(&other.0));
        pieces(points, &of, WITHIN_MIN)
    }

    /// The glows of which a part is in that half of the sky, until the sun shines on the place.
    fn glow(&self, course: &[Piece<Standing>], half: Half) -> Vec<DaySpan> {
        let parts = stretches(course, |sun| *sun == Standing { height: Height::Glow, half });
        let glows = stretches(course, |sun| sun.height == Height::Glow);
        let is_of_half = |glow: &DaySpan| parts.iter().any(|part| common(*part, *glow).is_some());
        glows.into_iter().filter(is_of_half).map(|glow| self.between_suns(course, glow)).collect()
    }

    /// A glow from where the low sun drops behind the place's own horizon, and until it comes over that again. A sun that goes
    /// while it is higher, or that is not seen in that half of the sky, leaves it as it is over a level one.
    fn between_suns(&self, course: &[Piece<Standing>], glow: DaySpan) -> DaySpan {
        let is_low = |stretch: DaySpan, half: Half| {
            let mut there = course.iter().filter(|piece| common(piece.span, stretch).is_some());
            there.all(|piece| piece.is == Standing { height: Height::Low, half })
        };
        let bright = &self.parts.bright;
        let gone = bright.iter().rev().find(|bright| bright.from_min < glow.from_min);
        let gone = gone.map(|bright| DaySpan { from_min: bright.to_min, to_min: glow.from_min });
        let gone = gone.filter(|between| is_low(*between, Half::West));
        let comes = bright.iter().find(|bright| bright.to_min > glow.to_min);
        let comes = comes.map(|bright| DaySpan { from_min: glow.to_min, to_min: bright.from_min });
        let comes = comes.filter(|between| is_low(*between, Half::East));
        DaySpan {
            from_min: gone.map_or(glow.from_min, |between| between.from_min),
            to_min: comes.map_or(glow.to_min, |between| between.to_min),
        }
    }

    /// What the calendar day's clock shows of a stretch of the clock that nobody changes; none if nothing of it is on the day.
    ///
    /// The minutes that a clock leaves out belong to what is there before and after them. Of minutes that come twice those count
    /// that are before it is put back, as [`Daylight::sun_at`] has them.
    fn on_the_day(&self, stretch: DaySpan) -> Option<DaySpan> {
        let DaySpan { from_min, to_min } = stretch;
        let shown = match self.parts.clock_change {
            None => stretch,
            Some(change) => {
                let later =
                    |minute: f64| (minute + change.by_min()).max(change.before_min.max(change.after_min));
                DaySpan {
                    from_min: if from_min < change.before_min { from_min } else { later(from_min) },
                    to_min: if to_min <= change.before_min { to_min } else { later(to_min) },
                }
            }
        };
        common(shown, DaySpan { from_min: 0.0, to_min: self.ends_min() })
    }
}

/// What two stretches have in common.
fn common(one: DaySpan, other: DaySpan) -> Option<DaySpan> {
    let (from_min, to_min) = (one.from_min.max(other.from_min), one.to_min.min(other.to_min));
    (from_min < to_min).then_some(DaySpan { from_min, to_min })
}

#[cfg(test)]
#[cfg(feature = "sun")]
mod tests {
    use super::*;
    use crate::sun::{Coordinates, HorizonProfile};
    use jiff::civil::Date;
    use jiff::tz::{Offset, TimeZone};
    use proptest::prelude::*;

    fn day(latitude: f64, horizon: &[(f64, f64)], date: &str, zone: &TimeZone) -> Daylight {
        let place = Coordinates::new(latitude, 4.3, 0.0).expect("a place");
        let horizon = HorizonProfile::from_deg(horizon.iter().copied()).expect("in range");
        Daylight::of(&place, &horizon, date.parse().expect("a date"), zone).expect("a day")
    }

    fn east(hours: i8) -> TimeZone {
        TimeZone::fixed(Offset::constant(hours))
    }

    fn assert_ends(spans: &[DaySpan], ends: &[(f64, f64)]) {
        let off = |(span, end): (&DaySpan, &(f64, f64))| {
            (span.from_min - end.0).abs().max((span.to_min - end.1).abs())
        };
        let agree = spans.len() == ends.len() && spans.iter().zip(ends).all(|pair| off(pair) < 0.05);
        assert!(agree, "{spans:?} is not {ends:?}");
    }

    #[test]
    fn the_hours_of_a_usual_day_lie_between_its_named_times() {
        let light = day(52.1, &[], "2026-09-10", &east(2));
        let times = *light.times();
        let at = |minute: Option<f64>| minute.expect("it happens");
        let (dawn, rise, noon) = (at(times.civil_dawn_min), at(times.sunrise_min), at(times.noon_min));
        let (set, dusk) = (at(times.sunset_min), at(times.civil_dusk_min));
        assert_ends(&light.hours_of(TimeOfDay::Night), &[(0.0, dawn), (dusk, DAY_MIN)]);
        assert_ends(&light.hours_of(TimeOfDay::Dawn), &[(dawn, rise)]);
        assert_ends(&light.hours_of(TimeOfDay::Morning), &[(rise, noon)]);
        assert_ends(&light.hours_of(TimeOfDay::Day), &[(rise, set)]);
        assert_ends(&light.hours_of(TimeOfDay::Afternoon), &[(noon, set)]);
        assert_ends(&light.hours_of(TimeOfDay::Dusk), &[(set, dusk)]);
    }

    #[test]
    fn with_the_day_after_its_hours_are_those_of_both() {
        let [today, tomorrow] = ["2026-09-10", "2026-09-11"].map(|date| day(52.1, &[], date, &east(2)));
        let place = Coordinates::new(52.1, 4.3, 0.0).expect("a place");
        let date = "2026-09-10".parse().expect("a date");
        let both = Daylight::with_next_day(&place, &HorizonProfile::LEVEL, date, &east(2)).expect("two days");
        assert_eq!(both.times(), today.times());
        let twilight = |day: &Daylight| {
            let times = day.times();
            (times.civil_dawn_min.expect("a dawn"), times.civil_dusk_min.expect("a dusk"))
        };
        let ((dawn, dusk), (comes, goes)) = (twilight(&today), twilight(&tomorrow));
        let nights = [(0.0, dawn), (dusk, DAY_MIN + comes), (DAY_MIN + goes, 2.0 * DAY_MIN)];
        assert_ends(&both.hours_of(TimeOfDay::Night), &nights);
        assert_eq!(both.hours_of(TimeOfDay::GoldenHour).len(), 4);
        assert_eq!(both.light_ends_min(dusk + 1.0), None, "the next light is tomorrow's");
        let again = both.next_light_min().expect("a dawn") - DAY_MIN;
        assert!((again - comes).abs() < 0.05 && today.next_light_min().is_none(), "{again} is not {comes}");
    }

    #[test]
    fn light_that_lasts_beyond_midnight_ends_after_it() {
        let white = day(60.2, &[], "2026-06-21", &east(2));
        let times = *white.times();
        let (dawn, dusk) = (times.civil_dawn_min.expect("one"), times.civil_dusk_min.expect("one"));
        assert_ends(&white.light_spans(), &[(0.0, dusk), (dawn, DAY_MIN)]);
        let ends = |minute| white.light_ends_min(minute).expect("a dusk");
        assert!((ends(10.0) - dusk).abs() < 0.05, "{} is not {dusk}", ends(10.0));
        // The evening's, about a day after that of the evening before.
        assert!((ends(720.0) - DAY_MIN - dusk).abs() < 2.0, "{} is not a day after {dusk}", ends(720.0));
    }

    #[test]
    fn light_ends_at_dusk_and_never_where_no_night_or_no_day_comes() {
        let usual = day(52.1, &[], "2026-09-10", &east(2));
        let dusk = usual.times().civil_dusk_min.expect("one");
        let ends = usual.light_ends_min(720.0).expect("a dusk");
        assert!((ends - dusk).abs() < 0.05, "{ends} is not {dusk}");
        assert_eq!(usual.light_ends_min(dusk + 1.0), None);
        let bright = day(70.0, &[], "2026-06-21", &east(1));
        assert_eq!((bright.light_spans().len(), bright.light_ends_min(720.0)), (1, None));
        let dark = day(80.0, &[], "2026-12-21", &east(1));
        assert_eq!((dark.light_spans(), dark.light_ends_min(720.0)), (Vec::new(), None));
    }

    #[test]
    fn golden_hour_ends_and_dusk_begins_where_a_low_sun_drops_behind_a_hill() {
        let hill = |height: f64| {
            let horizon = [(0.0, 0.0), (180.0, 0.0), (230.0, height), (330.0, height), (350.0, 0.0)];
            day(52.1, &horizon, "2026-09-10", &east(2))
        };
        let low = hill(3.0);
        let (evening, glow) = (low.times().evening.expect("one"), low.times().afterglow.expect("one"));
        let golden = *low.hours_of(TimeOfDay::GoldenHour).last().expect("an evening's");
        assert!((golden.to_min - evening.to_min).abs() < 0.05, "{golden:?} {evening:?}");
        assert!(golden.from_min > evening.from_min, "{golden:?} {evening:?}");
        assert!((low.sun_at(golden.from_min).true_elevation.to_deg() - 6.0).abs() < 0.001, "{golden:?}");
        assert_ends(&low.hours_of(TimeOfDay::Dusk), &[(glow.from_min, glow.to_min)]);
        // Behind a higher one the sun is gone before its light is golden, and dusk is the sky's.
        let high = hill(8.0);
        let (set, dusk) = (high.times().sunset_min, high.times().civil_dusk_min);
        let ends = [(set.expect("a set"), dusk.expect("a dusk"))];
        assert_ends(&high.hours_of(TimeOfDay::Dusk), &ends);
        assert_eq!(high.hours_of(TimeOfDay::GoldenHour).len(), 1, "the morning's alone");
    }

    #[test]
    fn a_winter_sun_that_is_seen_before_noon_alone_leaves_dusk_to_the_evening() {
        let wall_in_the_west = [(0.0, 0.0), (170.0, 0.0), (172.0, 10.0), (350.0, 10.0)];
        let light = day(65.0, &wall_in_the_west, "2026-12-21", &east(1));
        let times = *light.times();
        let (rise, set) = (times.sunrise_min.expect("a rise"), times.sunset_min.expect("a set"));
        let golden = light.hours_of(TimeOfDay::GoldenHour);
        assert_eq!(golden.len(), 1, "{golden:?}");
        assert!(golden[0].to_min < times.noon_min.expect("a noon"), "{golden:?}");
        assert_ends(&light.hours_of(TimeOfDay::Dawn), &[(times.civil_dawn_min.expect("a dawn"), rise)]);
        assert_ends(&light.hours_of(TimeOfDay::Dusk), &[(set, times.civil_dusk_min.expect("a dusk"))]);
    }

    #[test]
    fn minutes_that_a_clock_leaves_out_part_no_night_and_those_that_come_twice_count_once() {
        let zone = TimeZone::posix("CET-1CEST,M3.5.0,M10.5.0/3").expect("a rule");
        for date in ["2026-03-29", "2026-10-25"] {
            let light = day(52.1, &[], date, &zone);
            let (dawn, dusk) = (light.times().civil_dawn_min, light.times().civil_dusk_min);
            let ends = [(0.0, dawn.expect("a dawn")), (dusk.expect("a dusk"), DAY_MIN)];
            assert_ends(&light.hours_of(TimeOfDay::Night), &ends);
        }
        // Put back from half past seven to half past six, with dawn and sunrise in the hour that comes again.
        let zone = TimeZone::posix("CET-1CEST,M3.5.0,M10.5.0/7:30").expect("a rule");
        let light = day(52.1, &[], "2026-10-25", &zone);
        assert_ends(&light.hours_of(TimeOfDay::Night)[..1], &[(0.0, 450.0)]);
        assert_ends(&light.hours_of(TimeOfDay::Dawn), &[]);
        assert_ends(&light.hours_of(TimeOfDay::Day), &[(450.0, light.times().sunset_min.expect("a set"))]);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        /// Whatever the place, the day and its clock: each minute is of the hours that the sun's height then makes it.
        #[test]
        fn every_minute_is_of_the_hours_that_the_sun_makes_it(
            latitude in -90.0_f64..=90.0, days in 0_i64..=365, hours in -12_i8..=14,
        ) {
            let first: Date = "2026-01-01".parse().expect("a date");
            let date = first.checked_add(jiff::Span::new().days(days)).expect("in the calendar");
            let light = day(latitude, &[], &date.to_string(), &east(hours));
            let spans = TimeOfDay::ALL.map(|time| (time, light.hours_of(time)));
            for (_, spans) in &spans {
                let is_on_the_day = |span: &DaySpan| 0.0 <= span.from_min && span.to_min <= DAY_MIN;
                prop_assert!(spans.iter().all(is_on_the_day), "{:?}", spans);
                prop_assert!(spans.is_sorted_by(|one, next| one.to_min <= next.from_min), "{:?}", spans);
            }
            for minute in (0_i32..1440).step_by(7).map(f64::from) {
                let is = |time| {
                    let (_, spans) = spans.iter().find(|(of, _)| *of == time).expect("one of all");
                    spans.iter().any(|span| span.contains(minute))
                };
                let height = light.sun_at(minute).true_elevation.to_deg();
                // On the very edges a second decides.
                let edges = [AT_CIVIL_TWILIGHT_DEG, AT_THE_HORIZON_DEG, UP_TO_GOLDEN_HOUR_DEG];
                if edges.iter().any(|edge| (height - edge).abs() < 0.01) {
                    continue;
                }
                let told = format!("{minute} of {date} at {latitude}: {height}");
                prop_assert_eq!(is(TimeOfDay::Night), height < AT_CIVIL_TWILIGHT_DEG, "{}", told);
                let is_up = height > AT_THE_HORIZON_DEG;
                prop_assert_eq!(is(TimeOfDay::Day), is_up, "{}", told);
                prop_assert_eq!(is(TimeOfDay::Morning) || is(TimeOfDay::Afternoon), is_up, "{}", told);
                let is_low = is_up && height < UP_TO_GOLDEN_HOUR_DEG;
                prop_assert_eq!(is(TimeOfDay::GoldenHour), is_low, "{}", told);
                let is_glow = !is_up && height > AT_CIVIL_TWILIGHT_DEG;
                prop_assert_eq!(is(TimeOfDay::Dawn) || is(TimeOfDay::Dusk), is_glow, "{}", told);
            }
        }
    }
}
