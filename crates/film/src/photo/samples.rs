//! Small files in the shapes of real ones, written byte by byte from the standards, for the tests of the readers.

/// The tags of a photo, as fractions where the standard has fractions.
#[derive(Debug, Clone, Copy)]
pub(super) struct Exif {
    pub(super) little_endian: bool,
    pub(super) focal_length: (u32, u32),
    pub(super) f_number: (u32, u32),
    pub(super) equivalent: u16,
    pub(super) zoom: (u32, u32),
    pub(super) subject_distance: (u32, u32),
    /// Whether the equivalent stands in the first table, among the tags of TIFF.
    pub(super) misplaced: bool,
    /// The direction of the look and the letter of its north, if the photo has any.
    pub(super) direction: Option<((u32, u32), &'static [u8])>,
    /// When it was taken, if the photo says so; with its closing zero.
    pub(super) taken: Option<&'static [u8]>,
    /// How many entries point to the table of the photo's tags; a real photo has one.
    pub(super) pointers: u16,
}

impl Exif {
    pub(super) const FOCAL_LENGTH_MM: f64 = 6.86;
}

impl Default for Exif {
    fn default() -> Self {
        Self {
            little_endian: true,
            focal_length: (686, 100),
            f_number: (18, 10),
            equivalent: 52,
            zoom: (2, 1),
            subject_distance: (3, 2),
            misplaced: false,
            direction: None,
            taken: None,
            pointers: 1,
        }
    }
}

/// The value of a tag.
enum Tagged {
    Short(u16),
    Long(u32),
    Fraction((u32, u32)),
    Text(&'static [u8]),
}

impl Exif {
    fn word(&self, word: u16) -> [u8; 2] {
        if self.little_endian { word.to_le_bytes() } else { word.to_be_bytes() }
    }

    fn long(&self, long: u32) -> [u8; 4] {
        if self.little_endian { long.to_le_bytes() } else { long.to_be_bytes() }
    }

    /// A table of tags at `at`, with the fractions behind it.
    fn table(&self, at: u32, tags: &[(u16, Tagged)]) -> Vec<u8> {
        let count = u16::try_from(tags.len()).expect("few");
        let mut fractions_at = at + 2 + 12 * u32::from(count) + 4;
        let (mut table, mut fractions) = (self.word(count).to_vec(), Vec::new());
        for (tag, value) in tags {
            table.extend(self.word(*tag));
            let count =
                if let Tagged::Text(text) = value { u32::try_from(text.len()).expect("short") } else { 1 };
            let (form, value) = match value {
                Tagged::Short(short) => (3, [self.word(*short), [0; 2]].concat()),
                Tagged::Long(long) => (4, self.long(*long).to_vec()),
                Tagged::Fraction((numerator, denominator)) => {
                    fractions.extend([self.long(*numerator), self.long(*denominator)].concat());
                    fractions_at += 8;
                    (5, self.long(fractions_at - 8).to_vec())
                }
                Tagged::Text(text) if text.len() <= 4 => (2, [text, &[0; 4][text.len()..]].concat()),
                Tagged::Text(text) => {
                    fractions.extend(*text);
                    fractions_at += count;
                    (2, self.long(fractions_at - count).to_vec())
                }
            };
            table.extend(self.word(form));
            table.extend(self.long(count));
            table.extend(value);
        }
        table.extend(self.long(0));
        [table, fractions].concat()
    }

    /// The block, from its TIFF header on.
    pub(super) fn block(&self) -> Vec<u8> {
        let photo_at = 8
            + 2
            + 12 * (1
                + u32::from(self.pointers)
                + u32::from(self.misplaced)
                + u32::from(self.direction.is_some()))
            + 4;
        let mut first = vec![(0x0112, Tagged::Short(6))];
        first.extend((0..self.pointers).map(|_| (0x8769, Tagged::Long(photo_at))));
        let mut photo = vec![
            (0x829d, Tagged::Fraction(self.f_number)),
            (0x9202, Tagged::Fraction((17, 10))),
            (0x9206, Tagged::Fraction(self.subject_distance)),
            (0x920a, Tagged::Fraction(self.focal_length)),
            (0xa002, Tagged::Long(4032)),
            (0xa003, Tagged::Long(3024)),
            (0xa404, Tagged::Fraction(self.zoom)),
        ];
        photo.extend(self.taken.map(|taken| (0x9003, Tagged::Text(taken))));
        let table = if self.misplaced { &mut first } else { &mut photo };
        table.push((0xa405, Tagged::Short(self.equivalent)));
        let header: &[u8] = if self.little_endian { b"II*\0\x08\0\0\0" } else { b"MM\0*\0\0\0\x08" };
        let photo = self.table(photo_at, &photo);
        if let Some((direction, north)) = self.direction {
            let place_at = photo_at + u32::try_from(photo.len()).expect("short");
            first.push((0x8825, Tagged::Long(place_at)));
            let place = [(0x0010, Tagged::Text(north)), (0x0011, Tagged::Fraction(direction))];
            return [header, &self.table(8, &first), &photo, &self.table(place_at, &place)].concat();
        }
        [header, &self.table(8, &first), &photo].concat()
    }
}

/// A JPEG with a block of tags and the header of a frame of 640 x 480 pixels.
pub(super) fn jpeg(exif: &Exif) -> Vec<u8> {
    let segment = [b"Exif\0\0".as_slice(), &exif.block()].concat();
    let length = u16::try_from(segment.len() + 2).expect("a segment");
    let stripped = stripped_jpeg();
    let (start, frame) = stripped.split_at(2);
    [start, b"\xff\xe1", &length.to_be_bytes(), &segment, frame].concat()
}

/// A JPEG of 640 x 480 pixels without tags.
pub(super) fn stripped_jpeg() -> Vec<u8> {
    b"\xff\xd8\xff\xc0\0\x0b\x08\x01\xe0\x02\x80\x01\x01\x11\0\xff\xd9".to_vec()
}

/// An Exif item: the claimed offset, what stands before the block, and the block.
pub(super) fn exif_item(before: &[u8], offset: u32) -> Vec<u8> {
    [&offset.to_be_bytes(), before, &Exif::default().block()].concat()
}

fn boxed(kind: [u8; 4], body: &[u8]) -> Vec<u8> {
    let length = u32::try_from(body.len() + 8).expect("short");
    [&length.to_be_bytes(), kind.as_slice(), body].concat()
}

/// A box that begins with a version and three bytes of flags.
fn versioned(kind: [u8; 4], version: u8, body: &[u8]) -> Vec<u8> {
    boxed(kind, &[&[version, 0, 0, 0], body].concat())
}

/// A HEIC of 4000 x 3000 pixels, turned by quarters counterclockwise, with an Exif item if that is not empty.
pub(super) fn heic(exif_item: &[u8], quarters: u8) -> Vec<u8> {
    let length = u32::try_from(exif_item.len()).expect("short").to_be_bytes();
    let image = versioned(*b"infe", 2, b"\0\x01\0\0hvc1\0");
    let exif = versioned(*b"infe", 2, b"\0\x02\0\0Exif\0");
    let items: [&[u8]; 2] = [&image, if exif_item.is_empty() { b"" } else { &exif }];
    let properties = [
        versioned(*b"ispe", 0, &[4000_u32.to_be_bytes(), 3000_u32.to_be_bytes()].concat()),
        boxed(*b"irot", &[quarters]),
    ];
    // One item with two properties, the first and the second.
    let owners = versioned(*b"ipma", 0, b"\0\0\0\x01\0\x01\x02\x01\x82");
    let meta = [
        versioned(*b"hdlr", 0, b"\0\0\0\0pict\0\0\0\0\0\0\0\0\0\0\0\0\0"),
        versioned(*b"pitm", 0, b"\0\x01"),
        versioned(*b"iinf", 0, &[b"\0\x02", items[0], items[1]].concat()),
        // Offsets and lengths of four bytes; one item, inside the box `idat`, in one extent.
        versioned(*b"iloc", 1, &[b"\x44\0\0\x01\0\x02\0\x01\0\0\0\x01\0\0\0\0".as_slice(), &length].concat()),
        boxed(*b"iprp", &[boxed(*b"ipco", &properties.concat()), owners].concat()),
        boxed(*b"idat", exif_item),
    ];
    [boxed(*b"ftyp", b"heic\0\0\0\0mif1heic"), versioned(*b"meta", 0, &meta.concat())].concat()
}

/// A value of keyed metadata of a well-known type: 1 text, 21 a signed whole number, 23 a short floating one.
pub(super) fn data(form: u32, value: &[u8]) -> Vec<u8> {
    boxed(*b"data", &[&form.to_be_bytes(), [0; 4].as_slice(), value].concat())
}

/// A clip of 3840 x 2160 pixels.
#[derive(Debug, Clone)]
pub(super) struct Clip<'a> {
    pub(super) brand: [u8; 4],
    pub(super) handler: [u8; 4],
    /// `a`, `b`, `c` and `d` of the track's matrix.
    pub(super) matrix: [i32; 4],
    pub(super) timescale: u32,
    /// How many frames last how many ticks.
    pub(super) runs: &'a [(u32, u32)],
    /// Keys and their values.
    pub(super) metadata: &'a [(&'a str, Vec<u8>)],
    /// Whether the box of metadata begins with version and flags.
    pub(super) full_meta: bool,
    /// How long the picture's own data are, between the head and the index.
    pub(super) data_bytes: u64,
}

impl Default for Clip<'_> {
    fn default() -> Self {
        Self {
            brand: *b"isom",
            handler: *b"vide",
            matrix: [1, 0, 0, 1],
            timescale: 24_000,
            runs: &[(48, 1000)],
            metadata: &[],
            full_meta: true,
            data_bytes: 64,
        }
    }
}

impl Clip<'_> {
    pub(super) fn bytes(&self) -> Vec<u8> {
        let (head, moov) = self.head_and_moov();
        [head, vec![0; usize::try_from(self.data_bytes).expect("short")], moov].concat()
    }

    /// What stands before the picture's data, and what stands behind them.
    pub(super) fn head_and_moov(&self) -> (Vec<u8>, Vec<u8>) {
        let brands = boxed(*b"ftyp", &[self.brand.as_slice(), &[0; 4], &self.brand].concat());
        let data = [b"\0\0\0\x01mdat".as_slice(), &(self.data_bytes + 16).to_be_bytes()].concat();
        let track = boxed(*b"trak", &[self.track_header(), self.media()].concat());
        ([brands, data].concat(), boxed(*b"moov", &[track, self.meta()].concat()))
    }

    fn track_header(&self) -> Vec<u8> {
        let [a, b, c, d] = self.matrix.map(|value| value << 16);
        let matrix = [a, b, 0, c, d, 0, 0, 0, 1 << 30].map(i32::to_be_bytes).concat();
        let size = [3840_u32 << 16, 2160 << 16].map(u32::to_be_bytes).concat();
        versioned(*b"tkhd", 0, &[vec![0; 36], matrix, size].concat())
    }

    fn media(&self) -> Vec<u8> {
        let ticks: u32 = self.runs.iter().map(|(frames, ticks)| frames * ticks).sum();
        let header = [[0; 4], [0; 4], self.timescale.to_be_bytes(), ticks.to_be_bytes(), [0x55, 0xc4, 0, 0]];
        let description =
            [&[0; 24], [3840_u16, 2160].map(u16::to_be_bytes).concat().as_slice(), &[0; 50]].concat();
        let description = [b"\0\0\0\x01".as_slice(), &boxed(*b"hvc1", &description)].concat();
        let runs: Vec<u8> =
            self.runs.iter().flat_map(|run| [run.0.to_be_bytes(), run.1.to_be_bytes()].concat()).collect();
        let count = u32::try_from(self.runs.len()).expect("few").to_be_bytes();
        let samples = [
            versioned(*b"stsd", 0, &description),
            versioned(*b"stts", 0, &[count.as_slice(), &runs].concat()),
        ];
        let handler = [&[0; 4], self.handler.as_slice(), &[0; 13]].concat();
        let media = [
            versioned(*b"mdhd", 0, &header.concat()),
            versioned(*b"hdlr", 0, &handler),
            boxed(*b"minf", &boxed(*b"stbl", &samples.concat())),
        ];
        boxed(*b"mdia", &media.concat())
    }

    fn meta(&self) -> Vec<u8> {
        let (mut keys, mut items) = (Vec::new(), Vec::new());
        for (number, (key, value)) in (1_u32..).zip(self.metadata) {
            keys.extend(boxed(*b"mdta", key.as_bytes()));
            items.extend(boxed(number.to_be_bytes(), value));
        }
        let count = u32::try_from(self.metadata.len()).expect("few").to_be_bytes();
        let meta = [
            versioned(*b"hdlr", 0, b"\0\0\0\0mdta\0\0\0\0\0\0\0\0\0\0\0\0\0"),
            versioned(*b"keys", 0, &[count.as_slice(), &keys].concat()),
            boxed(*b"ilst", &items),
        ]
        .concat();
        if self.full_meta { versioned(*b"meta", 0, &meta) } else { boxed(*b"meta", &meta) }
    }
}
