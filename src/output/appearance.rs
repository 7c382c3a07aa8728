//! How each behaviour looks: one letter, one colour and one pattern, the same in every figure and table.

use super::plot::colour::{BLACK, BLUE, Colour, GREEN, ORANGE, PURPLE, SKY_BLUE, VERMILLION, YELLOW};
use super::plot::pattern::Pattern;
use crate::verdict::Behaviour;

/// All behaviours, the order of keys and legends.
pub const ALL: [Behaviour; 20] = [
    Behaviour::StaysShut,
    Behaviour::WillNotOpen,
    Behaviour::FailsShut,
    Behaviour::PassesBackwards,
    Behaviour::FloatsSteadily,
    Behaviour::HangsFromLink,
    Behaviour::Flutters,
    Behaviour::Chatters,
    Behaviour::ChattersIfDisturbed,
    Behaviour::RattlesWithSupply,
    Behaviour::StillSettling,
    Behaviour::OpensFully,
    Behaviour::DoesNotClose,
    Behaviour::OnTimeTooShort,
    Behaviour::ClosesHard,
    Behaviour::Hammers,
    Behaviour::Flashes,
    Behaviour::BoilsAtClosing,
    Behaviour::Hums,
    Behaviour::Overheats,
];

/// The letter of a behaviour in small regions and in the map of characters.
pub fn letter(behaviour: Behaviour) -> char {
    match behaviour {
        Behaviour::StaysShut => 'S',
        Behaviour::WillNotOpen => 'W',
        Behaviour::FailsShut => 'P',
        Behaviour::PassesBackwards => 'B',
        Behaviour::FloatsSteadily => 'F',
        Behaviour::HangsFromLink => 'J',
        Behaviour::Flutters => 'L',
        Behaviour::Chatters => 'C',
        Behaviour::ChattersIfDisturbed => 'D',
        Behaviour::RattlesWithSupply => 'R',
        Behaviour::StillSettling => 'T',
        Behaviour::OpensFully => 'O',
        Behaviour::DoesNotClose => 'N',
        Behaviour::OnTimeTooShort => 'Q',
        Behaviour::ClosesHard => 'K',
        Behaviour::Hammers => 'H',
        Behaviour::Flashes => 'V',
        Behaviour::BoilsAtClosing => 'G',
        Behaviour::Hums => 'M',
        Behaviour::Overheats => 'X',
    }
}

/// Violet: as far from quiet green as from the warm colours of what the valve does by itself.
const RATTLING: Colour = Colour(142, 80, 152);

/// Deep green: open in part, darker than its neighbours in a grey print, and light enough for a letter.
const HANGING: Colour = Colour(28, 128, 92);

/// The colour of a region; neighbours in practice also differ in lightness, for grey prints, and for colour-blind eyes.
pub fn colour(behaviour: Behaviour) -> Colour {
    match behaviour {
        Behaviour::StaysShut => BLUE.tint(0.80),
        Behaviour::WillNotOpen => BLACK.tint(0.45),
        Behaviour::FailsShut => BLACK.tint(0.54),
        Behaviour::PassesBackwards => BLACK.tint(0.65),
        Behaviour::FloatsSteadily => SKY_BLUE.tint(0.88),
        Behaviour::HangsFromLink => HANGING,
        Behaviour::Flutters => YELLOW.tint(0.90),
        Behaviour::Chatters => VERMILLION.tint(0.85),
        Behaviour::ChattersIfDisturbed => VERMILLION.tint(0.50),
        Behaviour::RattlesWithSupply => RATTLING,
        Behaviour::StillSettling => YELLOW.tint(0.30),
        Behaviour::OpensFully => GREEN.tint(0.38),
        Behaviour::DoesNotClose => ORANGE.tint(0.80),
        Behaviour::OnTimeTooShort => BLUE.tint(0.14),
        Behaviour::ClosesHard => ORANGE.tint(0.35),
        Behaviour::Hammers => VERMILLION.tint(0.45),
        Behaviour::Flashes => SKY_BLUE.tint(0.45),
        Behaviour::BoilsAtClosing => SKY_BLUE.tint(0.25),
        Behaviour::Hums => PURPLE.tint(0.80),
        Behaviour::Overheats => ORANGE,
    }
}

/// The pattern that marks a behaviour on top of the leading one.
pub fn pattern(behaviour: Behaviour) -> Pattern {
    match behaviour {
        Behaviour::Hammers => Pattern::Rising,
        Behaviour::ClosesHard => Pattern::Falling,
        Behaviour::Hums | Behaviour::Flashes | Behaviour::BoilsAtClosing => Pattern::Upright,
        Behaviour::Overheats => Pattern::Dots,
        Behaviour::Chatters | Behaviour::Flutters | Behaviour::ChattersIfDisturbed => Pattern::Crossed,
        Behaviour::StaysShut | Behaviour::WillNotOpen | Behaviour::FailsShut | Behaviour::PassesBackwards => {
            Pattern::CloseFalling
        }
        Behaviour::RattlesWithSupply | Behaviour::StillSettling | Behaviour::OnTimeTooShort => Pattern::CloseRising,
        Behaviour::FloatsSteadily | Behaviour::HangsFromLink | Behaviour::OpensFully | Behaviour::DoesNotClose => {
            Pattern::Level
        }
    }
}

/// Ground of the cells in which the liquid would boil before a run could begin; in a grey print its bubbles tell it apart.
pub const WOULD_BOIL: Colour = Colour(253, 251, 227);
/// Rim of the bubbles on it.
pub const WOULD_BOIL_RIM: Colour = BLUE;
/// Pattern on it: no behaviour has it.
pub const WOULD_BOIL_PATTERN: Pattern = Pattern::Bubbles;
/// Its words in figure and text.
pub const WOULD_BOIL_WORDS: &str = "would boil";
/// Its sign in small regions and in the map of characters: no letter, as it is no behaviour.
pub const WOULD_BOIL_SIGN: char = '~';
/// Its colour number of a text terminal.
pub const WOULD_BOIL_TERMINAL: u8 = 25;

/// Colour number of a text terminal (of the 256), near to [`colour`].
pub fn terminal_colour(behaviour: Behaviour) -> u8 {
    match behaviour {
        Behaviour::StaysShut | Behaviour::OnTimeTooShort => 32,
        Behaviour::WillNotOpen | Behaviour::FailsShut => 245,
        Behaviour::PassesBackwards => 240,
        Behaviour::RattlesWithSupply => 97,
        Behaviour::Hums => 175,
        Behaviour::ChattersIfDisturbed => 173,
        Behaviour::FloatsSteadily | Behaviour::Flashes | Behaviour::BoilsAtClosing => 74,
        Behaviour::Flutters | Behaviour::StillSettling => 185,
        Behaviour::Chatters | Behaviour::Hammers => 166,
        Behaviour::OpensFully => 36,
        Behaviour::HangsFromLink => 29,
        Behaviour::DoesNotClose | Behaviour::ClosesHard | Behaviour::Overheats => 178,
    }
}

#[cfg(test)]
mod tests {
    use super::super::plot::vision::{Vision, difference};
    use super::*;

    #[test]
    fn no_letter_and_no_colour_serves_twice() {
        for (i, &a) in ALL.iter().enumerate() {
            for &b in &ALL[i + 1..] {
                assert_ne!(letter(a), letter(b));
                assert_ne!(colour(a), colour(b));
            }
        }
    }

    /// Regions that lie side by side in maps over differential, rate, voltage, gap and duty.
    const NEIGHBOURS: &[(Behaviour, &[Behaviour])] = &[
        (Behaviour::StaysShut, &[Behaviour::FloatsSteadily, Behaviour::Chatters, Behaviour::Flutters]),
        (Behaviour::StaysShut, &[Behaviour::OnTimeTooShort, Behaviour::OpensFully, Behaviour::RattlesWithSupply]),
        (Behaviour::StaysShut, &[Behaviour::PassesBackwards, Behaviour::WillNotOpen]),
        (Behaviour::FloatsSteadily, &[Behaviour::OpensFully, Behaviour::Chatters, Behaviour::OnTimeTooShort]),
        (Behaviour::FloatsSteadily, &[Behaviour::StillSettling, Behaviour::Flutters, Behaviour::RattlesWithSupply]),
        (Behaviour::Chatters, &[Behaviour::Flutters, Behaviour::OpensFully, Behaviour::StillSettling]),
        (Behaviour::Chatters, &[Behaviour::OnTimeTooShort, Behaviour::RattlesWithSupply]),
        (Behaviour::ChattersIfDisturbed, &[Behaviour::Chatters, Behaviour::Flutters, Behaviour::FloatsSteadily]),
        (Behaviour::ChattersIfDisturbed, &[Behaviour::StaysShut, Behaviour::OpensFully, Behaviour::OnTimeTooShort]),
        (Behaviour::StillSettling, &[Behaviour::OpensFully, Behaviour::Flutters, Behaviour::OnTimeTooShort]),
        (Behaviour::Flutters, &[Behaviour::OpensFully, Behaviour::OnTimeTooShort]),
        (Behaviour::OpensFully, &[Behaviour::OnTimeTooShort, Behaviour::WillNotOpen, Behaviour::Hums]),
        (Behaviour::OpensFully, &[Behaviour::RattlesWithSupply, Behaviour::Overheats]),
        (Behaviour::WillNotOpen, &[Behaviour::Hums]),
        (Behaviour::HangsFromLink, &[Behaviour::OpensFully, Behaviour::StaysShut, Behaviour::WillNotOpen]),
        (Behaviour::HangsFromLink, &[Behaviour::FloatsSteadily, Behaviour::Chatters, Behaviour::OnTimeTooShort]),
        (Behaviour::FailsShut, &[Behaviour::OpensFully, Behaviour::Hums]),
        (Behaviour::DoesNotClose, &[Behaviour::OnTimeTooShort, Behaviour::OpensFully]),
    ];

    fn neighbours() -> impl Iterator<Item = (Behaviour, Behaviour)> {
        NEIGHBOURS.iter().flat_map(|&(a, all)| all.iter().map(move |&b| (a, b)))
    }

    #[test]
    fn the_usual_neighbours_differ_in_a_grey_print() {
        for (a, b) in neighbours() {
            let step = (colour(a).lightness() - colour(b).lightness()).abs();
            assert!(step > 0.04, "{a:?} {b:?} {step}");
        }
    }

    #[test]
    fn the_cells_that_would_boil_look_like_no_behaviour() {
        for behaviour in ALL {
            assert_ne!(pattern(behaviour), WOULD_BOIL_PATTERN);
            for vision in [Vision::Usual, Vision::Protanopia, Vision::Deuteranopia] {
                let difference = difference(WOULD_BOIL, colour(behaviour), vision);
                assert!(difference > 11.5, "{vision:?}: {behaviour:?} {difference}");
            }
        }
        let rim = WOULD_BOIL.lightness() - WOULD_BOIL_RIM.lightness();
        assert!(rim > 0.5, "the bubbles show in a grey print: {rim}");
    }

    /// A difference of 2.3 is just noticeable (M. Mahy, L. Van Eycken, A. Oosterlinck, Evaluation of uniform color spaces,
    /// 1994, from memory); five times that is asked of areas that touch (judgement).
    #[test]
    fn the_usual_neighbours_differ_for_colour_blind_eyes() {
        for vision in [Vision::Usual, Vision::Protanopia, Vision::Deuteranopia] {
            for (a, b) in neighbours() {
                let difference = difference(colour(a), colour(b), vision);
                assert!(difference > 11.5, "{vision:?}: {a:?} {b:?} {difference}");
            }
        }
    }
}
