//! Kits with adapters of any kind, measured or not.

use std::sync::Arc;

use film::{ClearView, Kit, KitAdapter};
use optics::{Adapter, FrameAxis, MeasuredSqueeze, Squeeze};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

use super::{text, within};

fn squeeze() -> BoxedStrategy<Squeeze> {
    within(1.0, 3.0).prop_map(|factor| Squeeze::new(factor).expect("in range")).boxed()
}

/// As files can say it: the uncertainty is written in the squeeze's own unit.
fn measured_squeeze() -> BoxedStrategy<MeasuredSqueeze> {
    let measured =
        |(squeeze, sd): (Squeeze, f64)| MeasuredSqueeze { squeeze, relative_sd: sd / squeeze.to_f64() };
    (squeeze(), within(0.0, 1.0)).prop_map(measured).boxed()
}

fn clear_view() -> BoxedStrategy<ClearView> {
    let view = |(lens, recording, clear_share)| ClearView { lens, recording, clear_share };
    (text(), text(), within(0.0, 1.0)).prop_map(view).boxed()
}

fn adapter() -> BoxedStrategy<KitAdapter> {
    let axis = select(vec![FrameAxis::Width, FrameAxis::Height]);
    let names = || vec(text(), 0..3);
    (squeeze(), option::of(measured_squeeze()), axis, option::of(names()), names(), vec(clear_view(), 0..3))
        .prop_map(|(squeeze, measured_squeeze, axis_when_upright, fits, vignettes, clear_views)| KitAdapter {
            name: "clip-on".to_owned(),
            adapter: Adapter::new(squeeze),
            measured_squeeze,
            axis_when_upright,
            fits,
            vignettes,
            clear_views,
        })
        .boxed()
}

/// A kit that comes with the program, as often as not with an adapter of the crew's own.
pub(crate) fn kit() -> BoxedStrategy<Arc<Kit>> {
    let kits: Vec<_> = film::kits().iter().map(|kit| kit.to_kit().expect("a preset")).collect();
    let with = |(mut kit, adapter): (Kit, Option<KitAdapter>)| {
        kit.adapters.extend(adapter);
        Arc::new(kit)
    };
    (select(kits), option::of(adapter())).prop_map(with).boxed()
}
