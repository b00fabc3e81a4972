//! The parts of a kit, as far as they are alike: each has a name, stands in a list, and can be put in and taken out.

use film::{
    AdapterRecord, FilterRecord, KitRecord, LensRecord, OriginRecord, RecordError, RecordingRecord,
    ViewRecord,
};
use language::{key, say, text};

use crate::session::Plan;

/// A part of a kit.
pub(super) trait Part: Clone + PartialEq + Send + Sync + 'static {
    /// What one is called when it has no name, as in the core, and, said, in messages.
    const KIND: &'static str;
    /// Whether a plan needs at least one.
    const NEEDED: bool = false;

    /// Its name; parts without one go by their place, as in the core.
    fn shown_name(&self, index: usize) -> String;
    /// The kit's parts of this kind.
    fn list(kit: &KitRecord) -> &Vec<Self>;
    /// The same, to change.
    fn list_mut(kit: &mut KitRecord) -> &mut Vec<Self>;
    /// Whether it only stands for one that nobody has told of yet, whose place that takes when it has the same name.
    fn stands_in(&self) -> bool {
        false
    }
    /// Has what goes by the old name go by the new one.
    fn rename(_kit: &mut KitRecord, _from: &str, _to: &str) {}
    /// Has the plan follow a new name.
    fn follow(_plan: &mut Plan, _from: &str, _to: &str) {}
    /// Whether a measured view is of the part of that name.
    fn is_seen_in(_view: &ViewRecord, _name: &str) -> bool {
        false
    }
}

/// Which part is meant, whatever else comes and goes: its name, and which one of that name.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Key {
    /// The name.
    pub(super) name: String,
    nth: usize,
}

/// A part that was taken out, with all it takes to put it back.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Removed<T> {
    /// Its name.
    pub(super) name: String,
    /// The name of the kit that it was taken out of.
    kit: Option<String>,
    part: T,
    index: usize,
    views: Vec<ViewRecord>,
}

impl<T> Removed<T> {
    /// Where it stood among those of its kind.
    pub(super) const fn place(&self) -> usize {
        self.index
    }

    /// Whether it is a part of this kit, and not of one that was exchanged since.
    pub(super) fn is_of(&self, kit: &KitRecord) -> bool {
        self.kit == kit.name
    }
}

/// The keys of a kit's parts, in their order.
pub(super) fn keys<T: Part>(kit: &KitRecord) -> Vec<Key> {
    let mut keys: Vec<Key> = Vec::new();
    for (index, part) in T::list(kit).iter().enumerate() {
        let name = part.shown_name(index);
        let nth = keys.iter().filter(|key| key.name == name).count();
        keys.push(Key { name, nth });
    }
    keys
}

/// The names of a kit's parts, in their order.
pub(super) fn names<T: Part>(kit: &KitRecord) -> Vec<String> {
    T::list(kit).iter().enumerate().map(|(index, part)| part.shown_name(index)).collect()
}

/// The part that a key means.
pub(super) fn find<T: Part>(kit: &KitRecord, key: &Key) -> Option<T> {
    T::list(kit).get(position::<T>(kit, key)?).cloned()
}

/// What stands in for a part of that name until it is told of.
pub(super) fn stand_in<T: Part>(kit: &KitRecord, name: &str) -> Option<Key> {
    let mut parts = keys::<T>(kit).into_iter().zip(T::list(kit));
    parts.find_map(|(key, part)| (key.name == name && part.stands_in()).then_some(key))
}

/// A name that no part of that kind has, made from `wished`.
pub(super) fn free_name<T: Part>(kit: &KitRecord, wished: &str) -> String {
    let taken = names::<T>(kit);
    let numbered = (2..).map(|number| format!("{wished} {number}"));
    let mut tries = std::iter::once(wished.to_owned()).chain(numbered);
    tries.find(|name| !taken.contains(name)).unwrap_or_else(|| wished.to_owned())
}

/// The kit with a part put in the place of the one that `key` means; without one in the place of what stood in for it, or at
/// the end.
///
/// # Errors
/// If another one has the same name, or the kit that follows cannot be used.
pub(super) fn put<T: Part>(kit: &KitRecord, key: Option<&Key>, part: T) -> Result<KitRecord, RecordError> {
    let mut changed = kit.clone();
    let count = T::list(kit).len();
    let at = match key {
        Some(key) => position::<T>(kit, key),
        None if part.stands_in() => None,
        None => stand_in::<T>(kit, &part.shown_name(count)).and_then(|key| position::<T>(kit, &key)),
    };
    let index = at.unwrap_or(count);
    let name = part.shown_name(index);
    let taken = names::<T>(kit).iter().enumerate().any(|(other, taken)| other != index && *taken == name);
    if taken {
        let message = say!("another {} is called “{name}” already", text(T::KIND));
        return Err(RecordError::at("name", message));
    }
    if let Some(slot) = T::list_mut(&mut changed).get_mut(index) {
        let before = slot.shown_name(index);
        *slot = part;
        if before != name {
            T::rename(&mut changed, &before, &name);
        }
    } else {
        T::list_mut(&mut changed).push(part);
    }
    usable(changed)
}

/// The kit without the part that `key` means, and without the views that were measured of it.
///
/// # Errors
/// If a plan needs at least one and this is the last, or it is gone already.
pub(super) fn remove<T: Part>(kit: &KitRecord, key: &Key) -> Result<(KitRecord, Removed<T>), RecordError> {
    let gone = || RecordError::at("", say!("“{}” is gone already", key.name));
    let index = position::<T>(kit, key).ok_or_else(gone)?;
    if T::NEEDED && T::list(kit).len() < 2 {
        let message = say!("a kit needs at least one {0}: add another {0} first", text(T::KIND));
        return Err(RecordError::at("", message));
    }
    let mut changed = kit.clone();
    let (views, kept) = changed.views.into_iter().partition(|view| T::is_seen_in(view, &key.name));
    changed.views = kept;
    let part = T::list_mut(&mut changed).remove(index);
    Ok((usable(changed)?, Removed { name: key.name.clone(), kit: kit.name.clone(), part, index, views }))
}

/// The kit with a part back in its place.
///
/// # Errors
/// If its name was given to another one in the meantime.
pub(super) fn put_back<T: Part>(kit: &KitRecord, removed: &Removed<T>) -> Result<KitRecord, RecordError> {
    if names::<T>(kit).contains(&removed.name) {
        let message =
            say!("another {} is called “{}” now: rename that one first", text(T::KIND), removed.name);
        return Err(RecordError::at("name", message));
    }
    let mut changed = kit.clone();
    let list = T::list_mut(&mut changed);
    list.insert(removed.index.min(list.len()), removed.part.clone());
    changed.views.extend(removed.views.iter().cloned());
    usable(changed)
}

/// Passes a kit on that the core can compute with.
pub(super) fn usable(kit: KitRecord) -> Result<KitRecord, RecordError> {
    kit.to_kit()?;
    Ok(kit)
}

fn position<T: Part>(kit: &KitRecord, key: &Key) -> Option<usize> {
    keys::<T>(kit).iter().position(|other| other == key)
}

fn name_or(name: Option<&String>, kind: &str, index: usize) -> String {
    name.cloned().unwrap_or_else(|| format!("{kind} {}", index + 1))
}

fn replace(name: &mut String, from: &str, to: &str) {
    if name == from {
        to.clone_into(name);
    }
}

/// Has filters go in front of what they went in front of, by its new name.
fn rename_before_filters(filters: &mut [FilterRecord], from: &str, to: &str) {
    filters
        .iter_mut()
        .flat_map(|filter| filter.fits.iter_mut().flatten())
        .for_each(|name| replace(name, from, to));
}

impl Part for LensRecord {
    const KIND: &'static str = key!("lens");
    const NEEDED: bool = true;

    fn shown_name(&self, index: usize) -> String {
        name_or(self.name.as_ref(), Self::KIND, index)
    }

    fn stands_in(&self) -> bool {
        self.origin == Some(OriginRecord::Typical)
    }

    fn list(kit: &KitRecord) -> &Vec<Self> {
        &kit.lenses
    }

    fn list_mut(kit: &mut KitRecord) -> &mut Vec<Self> {
        &mut kit.lenses
    }

    fn rename(kit: &mut KitRecord, from: &str, to: &str) {
        let of_views = kit.views.iter_mut().map(|view| &mut view.lens);
        let of_adapters = kit
            .adapters
            .iter_mut()
            .flat_map(|adapter| adapter.fits.iter_mut().flatten().chain(&mut adapter.vignettes));
        of_adapters.for_each(|name| replace(name, from, to));
        let of_corners =
            kit.adapters.iter_mut().flat_map(|adapter| &mut adapter.clear_views).map(|view| &mut view.lens);
        of_views.for_each(|name| replace(name, from, to));
        of_corners.for_each(|name| replace(name, from, to));
        rename_before_filters(&mut kit.filters, from, to);
    }

    fn follow(plan: &mut Plan, from: &str, to: &str) {
        replace(&mut plan.lens, from, to);
    }

    fn is_seen_in(view: &ViewRecord, name: &str) -> bool {
        view.lens == name
    }
}

impl Part for RecordingRecord {
    const KIND: &'static str = key!("mode");
    const NEEDED: bool = true;

    fn shown_name(&self, index: usize) -> String {
        name_or(self.name.as_ref(), Self::KIND, index)
    }

    fn list(kit: &KitRecord) -> &Vec<Self> {
        &kit.recordings
    }

    fn list_mut(kit: &mut KitRecord) -> &mut Vec<Self> {
        &mut kit.recordings
    }

    fn rename(kit: &mut KitRecord, from: &str, to: &str) {
        kit.views.iter_mut().for_each(|view| replace(&mut view.recording, from, to));
        let of_corners = kit.adapters.iter_mut().flat_map(|adapter| &mut adapter.clear_views);
        of_corners.for_each(|view| replace(&mut view.recording, from, to));
    }

    fn follow(plan: &mut Plan, from: &str, to: &str) {
        replace(&mut plan.recording, from, to);
    }

    fn is_seen_in(view: &ViewRecord, name: &str) -> bool {
        view.recording == name
    }
}

impl Part for AdapterRecord {
    const KIND: &'static str = key!("adapter");

    fn shown_name(&self, index: usize) -> String {
        name_or(self.name.as_ref(), Self::KIND, index)
    }

    fn list(kit: &KitRecord) -> &Vec<Self> {
        &kit.adapters
    }

    fn list_mut(kit: &mut KitRecord) -> &mut Vec<Self> {
        &mut kit.adapters
    }

    fn rename(kit: &mut KitRecord, from: &str, to: &str) {
        rename_before_filters(&mut kit.filters, from, to);
    }

    fn follow(plan: &mut Plan, from: &str, to: &str) {
        if let Some(name) = &mut plan.adapter {
            replace(name, from, to);
        }
    }
}

impl Part for FilterRecord {
    const KIND: &'static str = key!("filter");

    fn shown_name(&self, index: usize) -> String {
        name_or(self.name.as_ref(), Self::KIND, index)
    }

    fn list(kit: &KitRecord) -> &Vec<Self> {
        &kit.filters
    }

    fn list_mut(kit: &mut KitRecord) -> &mut Vec<Self> {
        &mut kit.filters
    }
}

impl Part for ViewRecord {
    const KIND: &'static str = key!("measured view");

    fn shown_name(&self, _: usize) -> String {
        say!("{} in {}", self.lens, self.recording)
    }

    fn list(kit: &KitRecord) -> &Vec<Self> {
        &kit.views
    }

    fn list_mut(kit: &mut KitRecord) -> &mut Vec<Self> {
        &mut kit.views
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kit() -> KitRecord {
        let mut kit = crate::session::first_kit();
        kit.views.push(ViewRecord {
            lens: "main".to_owned(),
            recording: "4K".to_owned(),
            horizontal_fov_deg: 66.0,
            horizontal_fov_sd_deg: None,
            at_m: None,
        });
        kit
    }

    fn key<T: Part>(kit: &KitRecord, name: &str) -> Key {
        keys::<T>(kit).into_iter().find(|key| key.name == name).expect("a part of that name")
    }

    #[test]
    fn what_was_removed_can_be_put_back_as_it_was() {
        let kit = kit();
        let (without, removed) =
            remove::<LensRecord>(&kit, &key::<LensRecord>(&kit, "main")).expect("removed");
        assert_eq!((without.lenses.len(), without.views.len()), (kit.lenses.len() - 1, 0));
        assert_eq!(put_back(&without, &removed), Ok(kit));
    }

    #[test]
    fn the_last_lens_stays() {
        let mut kit = kit();
        kit.lenses.truncate(1);
        let only = keys::<LensRecord>(&kit).remove(0);
        let error = remove::<LensRecord>(&kit, &only).expect_err("the last one");
        assert_eq!(error.message, "a kit needs at least one lens: add another lens first");
    }

    #[test]
    fn a_new_name_reaches_all_that_goes_by_it() {
        let kit = kit();
        let main = key::<LensRecord>(&kit, "main");
        let mut renamed: LensRecord = find(&kit, &main).expect("a lens");
        renamed.name = Some("wide".to_owned());
        let mut kit = put(&kit, Some(&main), renamed).expect("a kit");
        assert_eq!(kit.views[0].lens, "wide");
        assert!(kit.adapters[0].fits.as_ref().is_some_and(|fits| fits.iter().any(|name| name == "wide")));
        let squeeze = kit.adapters[0].shown_name(0);
        let fits = Some(vec!["wide".to_owned(), squeeze.clone()]);
        kit.filters.push(FilterRecord { name: None, stops: 3.0, stops_most: None, fits, stacks: None });
        let mut adapter = kit.adapters[0].clone();
        adapter.name = Some("clip".to_owned());
        let kit = put(&kit, Some(&key::<AdapterRecord>(&kit, &squeeze)), adapter).expect("a kit");
        let wide = key::<LensRecord>(&kit, "wide");
        let mut lens: LensRecord = find(&kit, &wide).expect("a lens");
        lens.name = Some("broad".to_owned());
        let kit = put(&kit, Some(&wide), lens).expect("a kit");
        assert_eq!(kit.filters[0].fits, Some(vec!["broad".to_owned(), "clip".to_owned()]));
    }

    #[test]
    fn a_lens_that_is_told_takes_the_place_of_the_typical_one_of_its_name() {
        let kit = kit();
        let told = LensRecord { origin: Some(OriginRecord::Typed), ..kit.lenses[0].clone() };
        let changed = put(&kit, None, told.clone()).expect("a kit");
        assert_eq!(changed.lenses.len(), kit.lenses.len());
        assert_eq!(changed.lenses[0], told);
        let again = put(&changed, None, told).expect_err("it is told already");
        assert_eq!(again.path, "name");
    }

    #[test]
    fn two_of_one_name_are_refused() {
        let kit = kit();
        let twin = kit.lenses[0].clone();
        let error = put(&kit, None, twin).expect_err("a twin");
        assert_eq!((error.path.as_str(), leaf_message(&error)), ("name", true));
        assert_eq!(free_name::<LensRecord>(&kit, "main"), "main 2");
    }

    fn leaf_message(error: &RecordError) -> bool {
        error.message.contains("is called “ultra-wide” already")
    }

    #[test]
    fn a_part_that_cannot_be_used_leaves_the_kit_alone() {
        let kit = kit();
        let broken =
            LensRecord { name: Some("x".to_owned()), focal_length_mm: Some(-1.0), ..LensRecord::default() };
        let error = put(&kit, None, broken).expect_err("no such lens");
        assert_eq!(super::super::entry::leaf(&error), "focal_length_mm");
    }
}
