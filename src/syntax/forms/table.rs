//! The table of statements. Its order is the one in which first words are offered.

use super::super::classes::WordClass::{
    Declaration, Link, Operation, Profile, Promise, Selection, Setting, Speech, Structure, Unit,
};
use super::super::tree::{Kind, MachineLine, NeedlesWord, SpeechWord, YarnLine};
use super::{Form, Home, Unsure};

const fn top(first: &'static str, samples: &'static [&'static str]) -> Form {
    Form::new(Some(Home::Top), first, samples).unsure(Unsure::Nothing)
}

/// A line that gives something a name.
const fn naming(first: &'static str, samples: &'static [&'static str]) -> Form {
    Form { names: true, ..top(first, samples) }
}

const fn machine(first: &'static str, samples: &'static [&'static str]) -> Form {
    Form::new(Some(Home::Machine), first, samples).unsure(Unsure::Nothing)
}

const fn yarn(first: &'static str, samples: &'static [&'static str]) -> Form {
    Form::new(Some(Home::Yarn), first, samples).unsure(Unsure::Nothing)
}

const fn work(first: &'static str, samples: &'static [&'static str]) -> Form {
    Form::new(Some(Home::Work), first, samples)
}

/// A line of a block that begins with what it is about.
const fn bare(home: Home) -> Form {
    Form::new(Some(home), "", &[])
}

/// A line that only says something to the knitter.
const fn speech(word: SpeechWord) -> Form {
    work(word.word(), word.samples()).unsure(Unsure::Nothing).words(word.words())
}

/// One row a sort of line: what the tree makes of it, and what is known of it. The `match` has all kinds of statement, so
/// that the compiler asks for a new one. The lines that only say something have a table of their own.
macro_rules! table {
    (
        $($kind:pat => $form:expr,)+
        ; $said:pat => $word:ident, of $words:path;
        $($later:pat => $other:expr,)+
    ) => {
        static SAID: [Form; $words.len()] = {
            let mut forms = [Form::new(None, "", &[]); $words.len()];
            let mut at = 0;
            while at < forms.len() {
                forms[at] = speech($words[at]);
                at += 1;
            }
            forms
        };

        /// Every sort of line.
        pub(crate) fn all() -> impl Iterator<Item = &'static Form> + Clone {
            const { &[$($form),+] as &[Form] }.iter().chain(&SAID).chain(const { &[$($other),+] as &[Form] })
        }

        /// What is known of the line that such a statement was read from.
        pub(crate) const fn form(kind: &Kind) -> &'static Form {
            match kind {
                $($kind => const { &$form },)+
                $said => &SAID[*$word as usize],
                $($later => const { &$other },)+
            }
        }

        /// What the sort of line is called that such a statement was read from: a name of [`sorts`].
        #[must_use]
        pub const fn sort(kind: &Kind) -> &'static str {
            match kind {
                $($kind => stringify!($kind),)+
                $said => $word.word(),
                $($later => stringify!($later),)+
            }
        }

        /// Every sort of line by its name, which says how the tree has it; the first one is a line that cannot be read.
        pub fn sorts() -> impl Iterator<Item = &'static str> {
            let said = $words.iter().map(|word| word.word());
            [$(stringify!($kind)),+].into_iter().chain(said).chain([$(stringify!($later)),+])
        }
    };
}

table! {
    Kind::Broken => Form::new(None, "", &[]),

    Kind::Row(_) => work("row", &["row front knit, back tuck"])
        .unsure(Unsure::Rows)
        .means("One pass of the carriage. The line says what the needles of each bed do; a bed that is not named slips.")
        .words(&[(Operation, &["row"]), (Setting, &["loosened", "tightened", "size"]), (Operation, &["new", "loops"])]),
    Kind::Rows(..) => work("rows", &["rows 10 both knit"])
        .unsure(Unsure::Rows)
        .means("The same row several times; a number stands before what the needles do.")
        .words(&[(Operation, &["rows"])]),
    Kind::Tubular(..) => work("tubular", &["tubular 4 rows"]).unsure(Unsure::Rows).words(&[(Operation, &["tubular"])]),
    Kind::FreePass => work("free pass", &["free pass"]).unsure(Unsure::Rows).words(&[(Operation, &["free", "pass"])]),

    Kind::Pattern(_) => top("pattern", &["pattern \"Breakwater scarf\""])
        .means("The title of the pattern. It stands once, at the top.")
        .words(&[(Declaration, &["pattern"])]),
    Kind::Use(_) => top("use", &["use \"machines.wale\""])
        .means("Reads the machines, yarns, gauges, stitches, charts and values of another file.")
        .words(&[(Declaration, &["use"])]),
    Kind::Machine(_) => naming("machine", &["machine club {"])
        .block(Home::Machine)
        .means("What your machine has: how many needles, and what it can do. Nothing is known of it but what stands here.")
        .words(&[(Declaration, &["machine"])]),
    Kind::Yarn(_) => naming("yarn", &["yarn slate {"])
        .block(Home::Yarn)
        .means("A yarn, so that it can be threaded by its name.")
        .words(&[(Declaration, &["yarn"])]),
    Kind::Gauge(_) => naming("gauge", &["gauge half-cardigan {"])
        .block(Home::Gauge)
        .means("How many stitches and rows of a swatch make how much fabric. It has the name of the stitch that was measured.")
        .words(&[(Declaration, &["gauge"])]),
    Kind::GaugeLine { .. } => bare(Home::Gauge).unsure(Unsure::Nothing)
        .words(&[(Profile, &["washed", "unwashed", "relaxed"])]),
    Kind::Sizes(_) => naming("sizes", &["sizes short, long"])
        .means("The names of the sizes. A number may then be written for each of them, as in `120 (160) cm`.")
        .words(&[(Declaration, &["sizes"])]),
    Kind::Let(..) => naming("let", &["let length = 120 cm"])
        .means("Gives a value a name: a number with its unit, or a selection of needles.")
        .words(&[(Declaration, &["let"])]),
    Kind::Stitch { .. } => naming("stitch", &["stitch half-cardigan on both {", "stitch ripple (depth rows) on both {"])
        .block(Home::Work)
        .words(&[(Declaration, &["stitch"]), (Unit, &["number", "length", "selection"])]),
    Kind::StitchSize(_) => work("stitch size", &["stitch size 5"]).unsure(Unsure::Rows).words(&[(Setting, &["size"])]),
    Kind::Chart(_) => naming("chart", &["chart anchor {"])
        .block(Home::Chart)
        .means("A picture with one line for each row; the lowest line is knitted first.")
        .words(&[(Declaration, &["chart"])]),
    Kind::ChartLine(_) => bare(Home::Chart),
    Kind::Fabric(_) => naming("fabric", &["fabric basket {"]).block(Home::Fabric).words(&[(Declaration, &["fabric"])]),
    Kind::FabricLine(_) => bare(Home::Fabric),
    Kind::Piece { .. } => top("piece", &["piece \"Scarf\", make 2 {"])
        .block(Home::Work)
        .unsure(Unsure::Beds)
        .means("Something that is knitted from an empty machine to its end.")
        .words(&[(Declaration, &["piece", "make"])]),
    Kind::Section(_) => work("section", &["section \"Body\" {"])
        .block(Home::Work)
        .means("A part of a piece, with its own title.")
        .words(&[(Declaration, &["section"])]),

    Kind::MachineLine(MachineLine::Needles(_)) => machine("needles", &["needles 71 each side"]),
    Kind::MachineLine(MachineLine::Pitch(_)) => machine("pitch", &["pitch 5.7 mm"]).words(&[(Profile, &["pitch"])]),
    Kind::MachineLine(MachineLine::Racking { .. }) => machine("racking", &["racking front bed, 6 left to 4 right"])
        .words(&[(Setting, &["racking"])]),
    Kind::MachineLine(MachineLine::RackingSlack(_)) => machine("racking slack", &["racking slack 2"])
        .words(&[(Profile, &["slack"])]),
    Kind::MachineLine(MachineLine::RackingStep(_)) => machine("racking step", &[]).words(&[(Profile, &["step"])]),
    Kind::MachineLine(MachineLine::HalfStep(_)) => machine("half step with", &["half step with a lever"])
        .words(&[(Profile, &["half", "step", "lever", "handle"]), (Link, &["with", "a", "the"])]),
    Kind::MachineLine(MachineLine::HalfStepWay(_)) => machine("half step to", &["half step to the right"]),
    Kind::MachineLine(MachineLine::Selectors(_)) => machine("selectors", &["selectors both beds"])
        .words(&[(Profile, &["selectors"])]),
    Kind::MachineLine(MachineLine::Hold(_)) => machine("hold", &[]),
    Kind::Transfer { .. } => work("transfer", &["transfer back to front, joining", "transfer front L5-R5 to back"])
        .words(&[(Operation, &["transfer", "joining"]), (Setting, &["emptied", "stay", "go", "hand", "carriage"]), (Link, &["by"])]),
    Kind::MachineLine(MachineLine::TransferCarriage(_)) => machine("transfer carriage", &["transfer carriage"]),
    Kind::MachineLine(MachineLine::TransferTakes(_)) => machine("transfer carriage takes", &["transfer carriage takes every stitch"])
        .words(&[(Profile, &["takes", "lone", "picked", "second"])]),
    Kind::MachineLine(MachineLine::TransferPlace(_)) => machine("transfer place", &["transfer place \"a quarter step right of face to face\""])
        .words(&[(Profile, &["place"])]),
    Kind::MachineLine(MachineLine::TransferSizes(..)) => machine("transfer at", &["transfer at size 6 to 9"]),
    Kind::MachineLine(MachineLine::MostTucks(_)) => machine("most tucks", &["most tucks 4"])
        .words(&[(Profile, &["most", "tucks"])]),
    Kind::MachineLine(MachineLine::MostAdjacentTucks(_)) => machine("most adjacent tucks", &[])
        .words(&[(Profile, &["adjacent"])]),
    Kind::MachineLine(MachineLine::LongestFloat(_)) => machine("longest float", &["longest float 25 mm"])
        .words(&[(Profile, &["longest", "float"])]),
    Kind::MachineLine(MachineLine::LongestWait(_)) => machine("longest wait", &["longest wait 8 rows"])
        .words(&[(Profile, &["wait"])]),
    Kind::MachineLine(MachineLine::WidestCross(_)) => machine("widest cross", &["widest cross 3 stitches"])
        .words(&[(Profile, &["widest"])]),
    Kind::MachineLine(MachineLine::StitchSizes(..)) => machine("stitch sizes", &[]),
    Kind::MachineLine(MachineLine::EmptiedStay(_)) => machine("emptied needles", &["emptied needles stay in work"]),

    Kind::YarnLine(YarnLine::Count { .. }) => yarn("count", &["count 2/15 Nm"])
        .words(&[(Profile, &["count"]), (Unit, &["Nm", "tex", "dtex", "denier", "Ne", "worsted"])]),
    Kind::YarnLine(YarnLine::Colour(_)) => yarn("colour", &["colour \"grey blue\""]).words(&[(Profile, &["colour"])]),
    Kind::YarnLine(YarnLine::Fibre(_)) => yarn("fibre", &["fibre \"wool\""]).words(&[(Profile, &["fibre"])]),
    Kind::YarnLine(YarnLine::Ball(_)) => yarn("ball", &["ball 50 g"]).words(&[(Profile, &["ball"])]),
    Kind::YarnLine(YarnLine::Strands(_)) => yarn("strands", &["strands 2"]).words(&[(Profile, &["strands"])]),
    Kind::YarnLine(YarnLine::PlainRows(_)) => yarn("plain rows", &["plain rows at size 5"]).words(&[(Profile, &["plain"])]),

    Kind::Needles(NeedlesWord::InWork, _) => work("in work", &["in work front L30-R30, back L30-R29"]),
    Kind::Needles(NeedlesWord::OutOfWork, _) => work("out of work", &["out of work back"]).words(&[(Operation, &["out"])]),
    Kind::Needles(NeedlesWord::Hold, _) => work("hold", &["hold front leftmost 5"]).words(&[(Operation, &["hold"])]),
    Kind::Needles(NeedlesWord::Release, _) => work("release", &["release front"]).words(&[(Operation, &["release"])]),
    Kind::Gaiting(_) => work("gaiting", &["gaiting between"]).words(&[(Setting, &["gaiting", "between", "opposite"])]),
    Kind::RackBy(..) => work("rack", &["rack 1 left"]).words(&[(Operation, &["rack"])]),
    Kind::RackTo(_) => work("rack to", &["rack to centre"]),
    Kind::Thread(_) => work("thread", &["thread slate"]).unsure(Unsure::Rows).words(&[(Operation, &["thread"])]),
    Kind::Carriage(_) => work("carriage", &["carriage left"]).unsure(Unsure::Rows),
    Kind::ResetCounter => work("reset counter", &["reset counter"])
        .unsure(Unsure::Rows)
        .words(&[(Operation, &["reset"]), (Setting, &["counter"])]),

    Kind::CastOn(..) => work("cast on", &["cast on zigzag"])
        .words(&[(Operation, &["cast", "zigzag", "open", "wound", "chain"])]),
    Kind::Needles(NeedlesWord::NewLoops, _) => work("new loops", &["new loops front L31"]),
    Kind::Move { .. } => work("move", &["move front L5 1 left"]).words(&[(Operation, &["move"])]),
    Kind::MoveTo { .. } => work("move", &["move front L5 to back L6"]),
    Kind::Cross { .. } => work("cross", &["cross front L2-L1 over R1-R2"]).words(&[(Operation, &["cross"])]),
    Kind::Increase(_) => work("increase", &["increase front 1 at each edge"])
        .words(&[(Operation, &["increase"]), (Setting, &["inset"])]),
    Kind::Decrease(_) => work("decrease", &["decrease front 1 at left, inset 3"]).words(&[(Operation, &["decrease"])]),
    Kind::Needles(NeedlesWord::Drop, _) => work("drop", &["drop front R5"]).words(&[(Operation, &["drop"])]),
    Kind::PickUp(..) => work("pick up", &["pick up front L5-R5 from waste yarn", "pick up front L5-R5 from \"shoulder\""])
        .words(&[(Operation, &["pick", "up"])]),
    Kind::Needles(NeedlesWord::BindOff, _) => work("bind off", &["bind off front"]).words(&[(Operation, &["bind", "off"])]),
    Kind::OntoWaste(..) => work("onto waste yarn", &["onto waste yarn front", "onto waste yarn front as \"shoulder\""])
        .words(&[(Operation, &["onto", "waste"]), (Link, &["as"])]),
    Kind::CutYarn => work("cut yarn", &["cut yarn"]).unsure(Unsure::Rows).words(&[(Operation, &["cut"])]),

    Kind::Repeat(_) => work("repeat", &["repeat 4 times {"])
        .block(Home::Work)
        .means("Does the lines in its block again and again. It ends with the stitches where it begins.")
        .words(&[(Structure, &["repeat", "times"])]),
    Kind::Work { .. } => work("work", &["work half-cardigan 12 times", "work ripple (depth 3 rows)"])
        .words(&[(Structure, &["work", "for"])]),
    Kind::Follow(..) => work("follow", &["follow anchor 2 times {"])
        .block(Home::Work)
        .means("Does its block once for each line of a chart; inside, the name of the chart means the marks of that line.")
        .words(&[(Structure, &["follow"])]),
    Kind::Shape(_) => work("shape", &["shape over 60 rows {"]).block(Home::Shape).words(&[(Structure, &["shape"])]),
    Kind::Slope(..) => bare(Home::Shape).words(&[(Structure, &["evenly"])]),
    Kind::Arrange(_) => work("arrange", &["arrange front \"|..|\""]).words(&[(Operation, &["arrange"])]),

    ; Kind::Say(word, _) => word, of SpeechWord::ALL;
    Kind::Remind(..) => work("remind", &["remind every 30 rows \"move the weights\""])
        .unsure(Unsure::Nothing)
        .words(&[(Speech, &["remind"]), (Selection, &["every"])]),
    Kind::Expect(_) => work("expect", &["expect 60 stitches front, 0 back"])
        .unsure(Unsure::Nothing)
        .means("A promise of what is so at this place. wale checks it, and so can you, at the machine.")
        .words(&[(Promise, &["expect", "tube", "closed"])]),
    Kind::Allow(..) => work("allow", &["allow long-float because \"it is cut open later\" {"])
        .block(Home::Work)
        .means("Silences one rule for the lines in its block, and keeps the reason beside them.")
        .words(&[(Promise, &["allow", "because"])]),
}
