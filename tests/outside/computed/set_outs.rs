//! Which needles work for a rib.
//!
//! D. J. Spencer, Knitting Technology, 3rd ed., 2001, section 7.3.1, pp. 68-69: on a rib machine each bed has one
//! needle less out of action than the other bed has neighbours working; needles face to face: as many out as work
//! opposite. Names are face wales first, rib wales second. The closed form (m + n - 1 and m + n places) is ours.

use crate::outside::hand::{Hand, Said, played, stands};
use wale::beds::{Bed, Both};

fn tile(parts: &[(char, usize)]) -> String {
    parts.iter().flat_map(|&(mark, times)| std::iter::repeat_n(mark, times)).collect()
}

/// The wales as they lie next to each other in the fabric: runs of needles of one bed, by their place in the yarn path.
fn wales(hand: &Hand<'_>, gaiting: &str, front: &str, back: &str, width: usize) -> Result<Vec<(Bed, usize)>, String> {
    let last = width * 4 - 1;
    let text = hand.piece(&format!(
        "gaiting {gaiting}
in work front \"{front}\" over L1-R{last}, back \"{back}\" over L1-R{last}
cast on wound both
mark \"begin\"
row both knit
mark \"end\"
onto waste yarn both"
    ));
    let played = played(&text)?;
    let course = &played.courses[0];
    let acting = Both { front: course.knit.front, back: course.knit.back };
    let path = course.state.yarn_path(&played.machine, &acting, wale::beds::Side::Right);
    Ok(path.chunk_by(|one, two| one.1 == two.1).map(|run| (run[0].1, run.len())).collect())
}

/// The inner runs, which no edge cuts short.
fn inner(wales: &[(Bed, usize)]) -> &[(Bed, usize)] {
    &wales[1..wales.len() - 1]
}

#[test]
fn rib_machine_set_outs_give_their_ribs() {
    let check = |hand: &Hand<'_>| -> Said {
        for (face, rib) in [(1, 1), (2, 1), (2, 2), (3, 1), (3, 2), (3, 3), (6, 3)] {
            let width = face + rib - 1;
            let front = tile(&[('|', face), ('.', rib - 1)]);
            let back = tile(&[('.', face - 1), ('|', rib)]);
            assert_eq!((front.len(), back.len()), (width, width));
            // Tiles from the left edge, counted from the centre: there is no needle 0, so L1 to R(n) are n + 1 needles.
            let wales = wales(hand, "between", &front, &back, width)?;
            for &(bed, run) in inner(&wales) {
                agree!(run, if bed == Bed::Front { face } else { rib }, "{face}x{rib}: {wales:?}");
            }
            must!(inner(&wales).windows(2).all(|pair| pair[0].0 != pair[1].0), "{wales:?}");
        }
        Ok(())
    };
    stands(check, &[("gaiting between", "gaiting opposite"), ("\"||.\"", "\"|..\"")]);
}

#[test]
fn set_outs_face_to_face_give_their_ribs() {
    let check = |hand: &Hand<'_>| -> Said {
        for (face, rib) in [(1, 1), (2, 1), (2, 2), (3, 1), (3, 3), (5, 5)] {
            let front = tile(&[('|', face), ('.', rib)]);
            let back = tile(&[('.', face), ('|', rib)]);
            let wales = wales(hand, "opposite", &front, &back, face + rib)?;
            for &(bed, run) in inner(&wales) {
                agree!(run, if bed == Bed::Front { face } else { rib }, "{face}x{rib}: {wales:?}");
            }
        }
        Ok(())
    };
    stands(check, &[("\"|.\"", "\"||\""), ("\"||.\"", "\"|..\"")]);
}

#[test]
fn the_idle_needle_of_a_swiss_rib_stands_opposite_the_pair() {
    let check = |hand: &Hand<'_>| -> Said {
        // Spencer 2001, p. 69.
        let text = hand.piece(
            "gaiting between
in work front \".||\" over L6-R6, back \"|.|\" over L6-R6
cast on wound both
mark \"begin\"
row both knit
mark \"end\"
onto waste yarn both",
        );
        let played = played(&text)?;
        let state = &played.courses[0].state;
        let place = |bed, needle| state.half_pitches(&played.machine, bed, needle);
        let mut seen = 0;
        for bed in Bed::BOTH {
            let working = state.in_work[bed];
            let (first, last) = (working.first().unwrap(), working.last().unwrap());
            for idle in (wale::beds::NeedleSet::span(first, last) - working).iter() {
                let at = place(bed, idle);
                let pair =
                    state.in_work[bed.other()].iter().filter(|&needle| place(bed.other(), needle).abs_diff(at) == 1);
                agree!(pair.count(), 2, "{bed} {idle} stands between two working needles of the other bed");
                seen += 1;
            }
        }
        agree!(seen, 7, "two needles in three work");
        Ok(())
    };
    stands(check, &[("\"|.|\"", "\"||.\""), ("half step to the right", "half step to the left")]);
}
