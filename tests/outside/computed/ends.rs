//! Which bed carries the end needle, and which way the beds go.
//!
//! H. D. Buck, Flat Machine Knitting and Fabrics, 1921, ch. IV, Figs. 30 and 31 (read): the front plate has the right end,
//! the back plate the left one; racking the front plate one to the left reverses both.

use crate::outside::hand::{Hand, Played, Said, needle, played, stands, stands_for_front};
use wale::beds::{Bed, Machine, State};

/// The beds of the needles that stand farthest left and farthest right.
fn ends(machine: &Machine, state: &State) -> (Bed, Bed) {
    let mut places: Vec<(i32, Bed)> = Bed::BOTH
        .into_iter()
        .flat_map(|bed| state.in_work[bed].iter().map(move |needle| (bed, needle)))
        .map(|(bed, needle)| (state.half_pitches(machine, bed, needle), bed))
        .collect();
    places.sort_unstable();
    (places[0].1, places[places.len() - 1].1)
}

fn racked(hand: &Hand<'_>, set_out: &str, steps: &[&str]) -> Result<Played, String> {
    let rows: Vec<String> = steps.iter().map(|step| format!("{step}\nrow both knit")).collect();
    played(&hand.piece(&format!(
        "gaiting between\nin work {set_out}\ncast on zigzag\ntubular 2 rows\nrow both knit\nmark \"begin\"\n{}\nmark \"end\"\n\
         onto waste yarn both",
        rows.join("\n")
    )))
}

/// The profile names the front bed as the one that racks.
fn front_racks(hand: &Hand<'_>) -> Said {
    let played = racked(hand, "front L5-R6, back L6-R5", &["rack 1 left", "rack 1 right"])?;
    let all: Vec<(Bed, Bed)> = played.racks.iter().map(|(_, after)| ends(&played.machine, after)).collect();
    agree!(
        ends(&played.machine, &played.start),
        (Bed::Back, Bed::Front),
        "the back bed has the left end, the front bed the right one"
    );
    agree!(all, [(Bed::Front, Bed::Back), (Bed::Back, Bed::Front)], "racked one to the left, and back");
    Ok(())
}

#[test]
fn racking_the_front_bed_one_to_the_left_reverses_the_ends() {
    stands_for_front(front_racks, &[("racking front bed", "racking back bed"), ("rack 1 left", "rack 1 right")]);
}

#[test]
fn racking_the_back_bed_one_to_the_right_is_the_same() {
    let check = |hand: &Hand<'_>| -> Said {
        let played = racked(hand, "front L5-R6, back L6-R5", &["rack 1 right", "rack 1 left"])?;
        let all: Vec<(Bed, Bed)> = played.racks.iter().map(|(_, after)| ends(&played.machine, after)).collect();
        agree!(all, [(Bed::Front, Bed::Back), (Bed::Back, Bed::Front)], "racked one to the right, and back");
        Ok(())
    };
    stands(check, &[("racking back bed", "racking front bed"), ("rack 1 right", "rack 1 left")]);
}

#[test]
fn a_rack_of_one_needle_swaps_the_ends() {
    // Buck 1921, ch. IV: one bed carries the end needle on one side, the other bed on the other; a rack swaps them.
    let check = |hand: &Hand<'_>| -> Said {
        let played =
            racked(hand, "front L6-R6, back L6-R6", &["rack 1 left", "rack 1 right", "rack 1 left", "rack 1 right"])?;
        agree!(played.racks.len(), 4, "racks");
        for (before, after) in &played.racks {
            let (before, after) = (ends(&played.machine, before), ends(&played.machine, after));
            must!(before.0 != before.1, "each bed has one end");
            agree!(after, (before.1, before.0), "the ends change beds");
        }
        Ok(())
    };
    stands(check, &[("racking back bed", "racking front bed"), ("half step to the right", "half step to the left")]);
}

/// Needles of the two beds as they stand to each other, whichever of them moved.
#[test]
fn what_the_one_bed_does_to_the_left_the_other_does_to_the_right() {
    let check = |hand: &Hand<'_>| -> Said {
        let steps = ["rack 1 right", "rack 1 right", "rack 1 left", "rack 1 left", "rack 1 left", "rack 1 right"];
        let played = racked(hand, "front L6-R6, back L6-R6", &steps)?;
        let (at, of) = (needle("R1"), &played.machine);
        let apart = |state: &State| state.half_pitches(of, Bed::Back, at) - state.half_pitches(of, Bed::Front, at);
        let seen: Vec<i32> = played.racks.iter().map(|(_, after)| apart(after)).collect();
        // Half needles that the back R1 stands to the right of the front R1.
        agree!(seen, [3, 5, 3, 1, -1, 1], "how far the back R1 stands to the right of the front R1");
        Ok(())
    };
    stands(check, &[("racking back bed", "racking front bed"), ("half step to the right", "half step to the left")]);
}
