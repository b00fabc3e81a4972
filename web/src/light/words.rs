//! Plain words for what stands on the Light screen.

use film::{
    DaySpan, ExposureFinding, Film, LightFinding, Severity, Shot, ShotId, ShotLight, SunInFrame, SunOnShot,
    SunSide, clock,
};
use language::{Number, key, say, text};
use units::{Angle, Stops};

use super::lit::Lit;

/// Sixteen directions clockwise from north, as sailors name them.
pub(super) const WINDS: [&str; 16] = [
    key!("north"),
    key!("north-north-east"),
    key!("north-east"),
    key!("east-north-east"),
    key!("east"),
    key!("east-south-east"),
    key!("south-east"),
    key!("south-south-east"),
    key!("south"),
    key!("south-south-west"),
    key!("south-west"),
    key!("west-south-west"),
    key!("west"),
    key!("west-north-west"),
    key!("north-west"),
    key!("north-north-west"),
];

/// The nearest of eight directions, which is as fine as people point.
pub(crate) fn wind(azimuth: Angle) -> &'static str {
    const EIGHTH_DEG: f64 = 45.0;
    let eighths = (azimuth.to_deg().rem_euclid(360.0) / EIGHTH_DEG).round();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number from 0 to 8")]
    let eighth = eighths as usize % 8;
    text(WINDS.get(eighth * 2).copied().unwrap_or_default())
}

/// A shot's number as a shot list has it: `2.1`.
pub(super) fn number(film: &Film, shot: ShotId) -> String {
    film.numbered(shot).unwrap_or_default()
}

/// What is left over, as people say it.
pub(super) fn residual(stops: Stops) -> String {
    let tenths = libm::round(stops.to_f64() * 10.0) / 10.0;
    if tenths.abs() < 0.05 {
        return say!("as wanted").to_owned();
    }
    let size = tenths.abs();
    let is_one = (size - 1.0).abs() < 0.05;
    match (is_one, tenths > 0.0) {
        (true, true) => say!("{size:.1} stop bright"),
        (true, false) => say!("{size:.1} stop dark"),
        (false, true) => say!("{size:.1} stops bright"),
        (false, false) => say!("{size:.1} stops dark"),
    }
}

/// The filters that are on; `no ND` if none is.
pub(super) fn filters(light: &ShotLight) -> String {
    if light.filters.on.is_empty() { say!("no ND").to_owned() } else { light.filters.words() }
}

/// f-number, shutter and ISO in one line: what is set, or what the app is likely to take.
pub(super) fn settings(light: &ShotLight) -> String {
    let f_number = say!("f/{:.1}", light.aperture.set.to_f64());
    match light.guess {
        Some(guess) => say!("{f_number}, the app takes about {} at {}", Number(guess.time), guess.iso),
        None => format!("{f_number}, {}, {}", Number(light.shutter.time), light.iso.set),
    }
}

/// What comes of it: an app that decides by itself makes up for what is left over.
pub(super) fn outcome(light: &ShotLight) -> String {
    if light.guess.is_some() { say!("the app brightens it").to_owned() } else { residual(light.residual) }
}

/// What is set and what comes of it, in one line.
pub(crate) fn in_a_line(light: &ShotLight) -> String {
    format!("{}, {}; {}", settings(light), filters(light), outcome(light))
}

/// The answer in a sentence or two.
pub(super) fn sentence(film: &Film, lit: &Lit) -> String {
    let start = say!("Shot {} at {}", number(film, lit.shot), clock(lit.minute));
    let Some(light) = &lit.light else { return say!("{start}: its lens is not in the kit any more.") };
    let sun = lit.sun.map_or_else(String::new, |sun| format!(" {}.", side(sun.side)));
    format!("{start}: {}.{sun}", in_a_line(light))
}

/// From where the sun lights whom a shot is of.
pub(super) fn side(side: SunSide) -> &'static str {
    match side {
        SunSide::Front => say!("Sun from behind the phone"),
        SunSide::Left => say!("Sun from the left"),
        SunSide::Right => say!("Sun from the right"),
        SunSide::Back => say!("Sun from behind them"),
    }
}

/// What is the matter with a setup's light, in three words.
pub(super) fn brief(finding: &LightFinding) -> &'static str {
    match finding {
        LightFinding::TooBright { .. } => say!("too much light"),
        LightFinding::TooDark { .. } => say!("too little light"),
        LightFinding::Lamps { found: ExposureFinding::FrameRateLocked { .. }, .. } => say!("mains lock rate"),
        LightFinding::Lamps { .. } => say!("lamps will flicker"),
        LightFinding::BackLight(_) => say!("face in shade"),
        LightFinding::CrewShadow(_) => say!("your own shadow"),
        LightFinding::Window(_) => say!("bright window"),
        LightFinding::LampsByApp { .. } => say!("lamps may flicker"),
        LightFinding::FiltersDoNotFit { .. } => say!("ND does not fit"),
        LightFinding::FilterCross { .. } => say!("ND shows cross"),
        LightFinding::ShutterNotOffered { .. } => say!("shutter not offered"),
        LightFinding::ShutterByApp { .. } => say!("app sets shutter"),
    }
}

/// The worst that is the matter with a setup now, and how bad it is; none if nothing asks for a look.
pub(super) fn trouble(lit: &Lit) -> Option<(Severity, &'static str)> {
    let found = lit.light.iter().flat_map(|light| &light.findings);
    let found = found.map(|finding| (finding.severity(), brief(finding)));
    let sun = lit.sun.and_then(|sun| match sun.in_frame {
        SunInFrame::Within => Some((Severity::Warns, say!("sun in frame"))),
        SunInFrame::Near => Some((Severity::Warns, say!("sun near frame"))),
        SunInFrame::Away => None,
    });
    let hours = (!lit.is_wanted()).then_some((Severity::Warns, say!("not its light")));
    // Of equals the first is the one to say first, where `max_by_key` would give the last.
    let worst = found.chain(sun).chain(hours).filter(|(severity, _)| *severity != Severity::Notes);
    worst.reduce(|worst, one| if one.0 > worst.0 { one } else { worst })
}

/// When the wanted light holds.
pub(super) fn wanted(spans: Option<&[DaySpan]>) -> String {
    match spans {
        None => say!("Any time of the day will do.").to_owned(),
        Some([]) => say!("Its light does not come on this day.").to_owned(),
        Some(spans) => say!("Its light holds {}.", hours(spans)),
    }
}

/// Hours as people say them: `from 9:00 to 11:30 and from 14:00 to 15:00`.
pub(super) fn hours(spans: &[DaySpan]) -> String {
    let told = spans.iter().map(|span| say!("from {} to {}", clock(span.from_min), clock(span.to_min)));
    told.collect::<Vec<_>>().join(say!(" and "))
}

/// How long a shadow is, in times what casts it, as anybody sees it whatever the phone does.
pub(super) fn shadow_times(azimuth: Angle, elevation: Angle) -> Option<f64> {
    let phone = staging::Camera::new(glam::DVec3::ZERO, Angle::ZERO, Angle::ZERO);
    let view = optics::ViewTangents { left: 1.0, right: 1.0, up: 1.0, down: 1.0 };
    SunOnShot::of(&phone, &view, Angle::ZERO, azimuth, elevation).shadow_times
}

/// A shot in a few words: its number, size and whom.
pub(super) fn shot(film: &Film, shot: &Shot) -> String {
    format!("{} {}", number(film, shot.id), crate::story::words::shot(film, shot))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_over_is_told_as_bright_or_dark() {
        let told = [-0.12, 0.04, 1.0, 2.26, -0.96].map(|stops| residual(Stops::new(stops)));
        assert_eq!(
            told,
            ["0.1 stops dark", "as wanted", "1.0 stop bright", "2.3 stops bright", "1.0 stop dark"]
        );
    }

    #[test]
    fn a_direction_is_the_nearest_of_eight() {
        let told = [0.0, 22.0, 23.0, 180.0, 232.0, 337.4, 338.0, 359.9]
            .map(|degrees| wind(Angle::from_deg(degrees)));
        let expected =
            ["north", "north", "north-east", "south", "south-west", "north-west", "north", "north"];
        assert_eq!(told, expected);
    }

    #[test]
    fn a_shadow_at_half_a_right_angle_is_as_long_as_what_casts_it() {
        let times = shadow_times(Angle::from_deg(200.0), Angle::from_deg(45.0)).expect("a shadow");
        assert!((times - 1.0).abs() < 1e-12, "{times}");
        assert_eq!(shadow_times(Angle::ZERO, Angle::from_deg(-1.0)), None);
    }

    #[test]
    fn hours_of_light_read_well() {
        let spans =
            [DaySpan { from_min: 545.0, to_min: 600.0 }, DaySpan { from_min: 1020.0, to_min: 1080.4 }];
        assert_eq!(wanted(Some(&spans)), "Its light holds from 09:05 to 10:00 and from 17:00 to 18:00.");
        assert_eq!(wanted(Some(&[])), "Its light does not come on this day.");
        assert_eq!(wanted(None), "Any time of the day will do.");
    }
}
