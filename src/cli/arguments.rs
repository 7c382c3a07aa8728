//! What may be typed.

use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// Why does a solenoid valve hum, chatter or bang? Simulates a solenoid valve (pilot-operated, forced-lift or direct-operated) between its lines from first
/// principles, judges what it does, and maps where it does it.
///
/// An estimate for diagnosis and training, not a design approval: local codes, the maker's instructions and licensed
/// persons decide.
#[derive(Parser)]
#[command(
    version,
    max_term_width = 100,
    after_help = "Exit codes: 0 done, whatever the verdict; 2 not done; 1 done, but with --strict the verdict\n\
                  is adverse, or a tolerance of the validation book is broken.\n\n\
                  Start with: quietseat check scenarios/air-low-differential.toml\n\
                  then:       quietseat run   scenarios/air-low-differential.toml\n\
                  then:       quietseat map   scenarios/air-low-differential.toml"
)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Subcommand)]
pub(super) enum Command {
    /// Read a scenario and show what was understood: every value in both unit systems, values by hand, remarks.
    Check(Check),
    /// Simulate the scenario's own duty: trace, figure of the cycle, numbers and verdict.
    Run(Run),
    /// Map the behaviour over differential pressure and cycle rate, or over any two parameters.
    Map(Map),
    /// Recompute published and exact cases with this very program and show how far off it is.
    Validate(Validate),
    /// Explain why the stage chatters or floats quietly, and what damps it: equilibria, modes, boundary, cures.
    ///
    /// With the valve asked to open (normally open: de-energised), all equilibria of the main stage are found (shut, floating, fully
    /// open); about each of them the small motions are computed, with the lines and their full delay. A motion that grows is the
    /// beginning of chatter. Told are: which parts of the installation take part in it, whether the valve feeds it, at which
    /// circuit differential it ends, whether it begins softly or with a jump, and which single change would damp it.
    ///
    /// A growth rate above zero means that any disturbance grows. What it grows to (a small flutter, or blows on the seat) is
    /// shown by `quietseat run`.
    Stability(Stability),
    /// Does a slower-closing valve avoid the hammer here, and what is the smallest change that does?
    Closing(Closing),
    /// What would each fault do to this valve: a broken ring, dirt, a torn diaphragm, the wrong coil …?
    ///
    /// The scenario's own duty is run as stated and then with one fault after the other, each of a size that suits the valve.
    /// It shows the verdict and the numbers that change most, beside what the trade expects. To go on with one of them, give
    /// its --set to run, map or any other command, or state it in the scenario's [faults].
    Faults(Faults),
    /// Fluids side by side by hand: surge per velocity, return time, and what stopping the same valve does to each.
    Surge(Surge),
    /// How hot does the coil get, over cycle rate and on-time, and does its insulation bear that, also with a stuck armature?
    ///
    /// Winding and body are two stores of heat ([valve.coil.network]). Mapped is the winding's mean temperature in the long run,
    /// with the armature in and, on alternating voltage, with one that stays out and leaves the inrush current flowing.
    Heat(Heat),
    /// List the known fluids with their ranges and the sources of their properties.
    Fluids(Fluids),
    /// Show a fluid at a state in both systems of units: density, sound speed, saturation, choking.
    Fluid(Fluid),
}

#[derive(Args)]
pub(super) struct Fluids {}

#[derive(Args)]
#[command(after_help = "Examples:\n  \
                        quietseat fluid R410A liquid, 35 °C, 5 K subcooled\n  \
                        quietseat fluid 'ammonia hot gas, 70 °C, 12 bar(a)'\n  \
                        quietseat fluid 'R134a suction gas, -10 °C saturated, 8 K superheated'\n  \
                        quietseat fluid '30 % by mass propylene glycol, -5 °C'\n  \
                        quietseat fluid 'air 20 °C, 7 bar(g)'\n\n\
                        Quotation marks keep brackets from the shell. Two of temperature, pressure, and subcooling or\n\
                        superheat fix a state; with one of them, both saturated states are shown. Subcooling counts from\n\
                        the bubble point, superheat from the dew point.")]
pub(super) struct Fluid {
    /// Name and state in words, in any order.
    #[arg(required = true, value_name = "WORDS", allow_negative_numbers = true)]
    pub(super) words: Vec<String>,
    /// Atmospheric pressure, from which gauge pressures count.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true, default_value = "1.01325 bar(a)")]
    pub(super) atmosphere: String,
    /// Print JSON in SI base units instead of text.
    #[arg(long)]
    pub(super) json: bool,
}

/// What all commands take.
#[derive(Args)]
pub(super) struct Common {
    /// Scenario file (TOML); see the commented examples in scenarios/.
    pub(super) scenario: PathBuf,
    /// Replace a value: a path and a value with its unit, such as --set 'valve.bleed.diameter=0.7 mm'. May be repeated;
    /// "none" takes an optional value away. Echoed in all outputs.
    #[arg(long = "set", value_name = "PATH=VALUE")]
    pub(super) settings: Vec<String>,
    /// Print one JSON document on stdout instead of text (its form is documented in README.md).
    #[arg(long)]
    pub(super) json: bool,
    /// No progress and no remarks on stderr; errors stay.
    #[arg(long, short)]
    pub(super) quiet: bool,
}

/// What the commands with a verdict take.
#[derive(Args)]
pub(crate) struct Strict {
    /// Exit with 1 where the verdict is adverse, for scripts. Without it a command that is done exits with 0, whatever it found.
    #[arg(long)]
    pub(crate) strict: bool,
}

#[derive(Args)]
pub(super) struct Check {
    #[command(flatten)]
    pub(super) common: Common,
    /// List every path that --set and the map's axes take, with its meaning, instead.
    #[arg(long, conflicts_with = "json")]
    pub(super) paths: bool,
}

#[derive(Args)]
pub(super) struct Run {
    #[command(flatten)]
    pub(super) common: Common,
    #[command(flatten)]
    pub(super) strict: Strict,
    /// Directory for the trace (CSV) and the figure (SVG, PNG); made if missing.
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub(super) out: PathBuf,
    /// Repeat the run with an independent explicit method and print how far each number moves (takes some ten times
    /// longer).
    #[arg(long)]
    pub(super) cross_check: bool,
    /// Show every number, not only the chief ones.
    #[arg(long)]
    pub(super) all: bool,
}

#[derive(Args)]
pub(super) struct Map {
    #[command(flatten)]
    pub(super) common: Common,
    #[command(flatten)]
    pub(super) strict: Strict,
    /// Directory for the cells (CSV) and the figure (SVG, PNG); made if missing.
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub(super) out: PathBuf,
    /// Threads; all cores unless stated, or with 0. The result does not depend on it.
    #[arg(long, value_name = "N", value_parser = whole, allow_hyphen_values = true)]
    pub(super) threads: Option<usize>,
    /// Go on with a map that was interrupted: what is done, by the same build and with the same inputs, is not computed again.
    #[arg(long)]
    pub(super) resume: bool,
}

#[derive(Args)]
pub(super) struct Validate {
    /// Only cases whose name, folder or source contains this text, whatever its case.
    #[arg(long, value_name = "TEXT")]
    pub(super) only: Option<String>,
    /// Print one JSON document on stdout instead of text.
    #[arg(long)]
    pub(super) json: bool,
    /// Write the table into README.md of this folder as well, between the marks there (what is written by hand stays), and
    /// the figures of measured records into the folders of their cases.
    #[arg(long, value_name = "DIR", conflicts_with = "only")]
    pub(super) write: Option<PathBuf>,
    /// No progress on stderr; errors stay.
    #[arg(long, short)]
    pub(super) quiet: bool,
}

#[derive(Args)]
#[command(
    after_help = "Exit codes: 0 done; 1 with --strict only: an oscillation grows in the state that the opening valve reaches\n\
                        first, or the simulated valve does not come to rest; 2 not done.\n\n\
                        Examples:\n  \
                        quietseat stability scenarios/air-low-differential.toml\n  \
                        quietseat stability scenarios/air-low-differential.toml --set 'supply.differential=0.1 bar'\n  \
                        quietseat stability scenarios/water-chatter.toml --from '0.1 bar' --to '1.5 bar' --points 120"
)]
pub(super) struct Stability {
    #[command(flatten)]
    pub(super) common: Common,
    #[command(flatten)]
    pub(super) strict: Strict,
    /// Directory for the curve (CSV) and the figure (SVG, PNG); made if missing.
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub(super) out: PathBuf,
    /// Lowest circuit differential of the curve, with its unit, such as '0.03 bar' or '0.5 psi'. Unless stated, the curve
    /// reaches from below lift-off to above full lift.
    #[arg(long, value_name = "DIFFERENTIAL", requires = "to", allow_hyphen_values = true)]
    pub(super) from: Option<String>,
    /// Highest circuit differential of the curve, with its unit.
    #[arg(long, value_name = "DIFFERENTIAL", requires = "from", allow_hyphen_values = true)]
    pub(super) to: Option<String>,
    /// Differentials of the curve, spaced evenly by ratio.
    #[arg(long, value_name = "N", default_value_t = 60, value_parser = clap::value_parser!(u16).range(2..=2000))]
    pub(super) points: u16,
    /// Theory alone, in seconds: no run, and so no cures.
    #[arg(long)]
    pub(super) no_cures: bool,
    /// Threads; all cores unless stated, or with 0. The result does not depend on it.
    #[arg(long, value_name = "N", value_parser = whole, allow_hyphen_values = true)]
    pub(super) threads: Option<usize>,
}

#[derive(Args)]
pub(super) struct Closing {
    #[command(flatten)]
    pub(super) common: Common,
    #[command(flatten)]
    pub(super) strict: Strict,
    /// Directory for the points (CSV) and the figure (SVG, PNG); made if missing.
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub(super) out: PathBuf,
    /// Highest inlet pressure that is allowed, such as "12 bar(g)". Unless stated: the tightest of the scenario's limits,
    /// else that of water fittings (DIN 3553:2019, 4.1.1), else 0.8 of ρ·a·v.
    #[arg(long, value_name = "PRESSURE", conflicts_with = "target_surge", allow_hyphen_values = true)]
    pub(super) target: Option<String>,
    /// The same as a rise above the pressure at rest, such as "2 bar".
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    pub(super) target_surge: Option<String>,
    /// Narrowest bleed that is kept free of dirt.
    #[arg(long, value_name = "LENGTH", default_value = "0.4 mm", allow_hyphen_values = true)]
    pub(super) least_bleed: String,
    /// Threads; all cores unless stated, or with 0. The result does not depend on it.
    #[arg(long, value_name = "N", value_parser = whole, allow_hyphen_values = true)]
    pub(super) threads: Option<usize>,
    /// Show the points of every parameter, not only of the bleed.
    #[arg(long)]
    pub(super) all: bool,
}

#[derive(Args)]
#[command(
    after_help = "How to read it: thin lines join duties at which the winding is equally hot on average, the thick one\n\
                        those at which its highest comes to its limit; beyond it the map is hatched. On the left the cycle\n\
                        is slow and the winding swings within it; on the right the pull-ins of a magnet on alternating\n\
                        voltage add their inrush current. \"Armature out\" is a coil whose armature never comes to the\n\
                        pole: jammed, or held by more differential than the magnet lifts.\n\n\
                        What it takes: how the coil gets rid of its heat, in [valve.coil.network] (or one thermal\n\
                        resistance), and limits.insulation_class or limits.coil_temperature. An ohmmeter tells how hot a\n\
                        winding is: 100 Ω at 20 °C are 139 Ω at 120 °C.\n\n\
                        Exit codes: 0 done; 1 with --strict only: the own duty overheats the coil; 2 not done.\n\n\
                        Examples:\n  \
                        quietseat heat scenarios/ac-hot-coil.toml\n  \
                        quietseat heat scenarios/ac-hot-coil.toml --set faults.stuck_armature=none\n  \
                        quietseat heat scenarios/ac-hot-coil.toml --set limits.insulation_class=H --to '30 1/min'"
)]
pub(super) struct Heat {
    #[command(flatten)]
    pub(super) common: Common,
    #[command(flatten)]
    pub(super) strict: Strict,
    /// Directory for the map (CSV) and the figure (SVG, PNG); made if missing.
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub(super) out: PathBuf,
    /// Lowest cycle rate of the map, with its unit; the own one where that is lower.
    #[arg(long, value_name = "RATE", allow_hyphen_values = true, default_value = "1 1/h")]
    pub(super) from: String,
    /// Highest cycle rate of the map; the own one where that is higher.
    #[arg(long, value_name = "RATE", allow_hyphen_values = true, default_value = "5 1/s")]
    pub(super) to: String,
    /// Values along each axis.
    #[arg(long, value_name = "N", default_value_t = 40, value_parser = clap::value_parser!(u16).range(2..=400))]
    pub(super) points: u16,
}

#[derive(Args)]
#[command(after_help = "Examples:\n  \
                        quietseat faults scenarios/ac-ring.toml\n  \
                        quietseat run scenarios/ac-ring.toml --set 'faults.pole_dirt=0.2 mm'")]
pub(super) struct Faults {
    #[command(flatten)]
    pub(super) common: Common,
    /// Threads; all cores unless stated, or with 0. The result does not depend on it.
    #[arg(long, value_name = "N", value_parser = whole, allow_hyphen_values = true)]
    pub(super) threads: Option<usize>,
}

#[derive(Args)]
#[command(after_help = "Examples:\n  \
                        quietseat surge\n  \
                        quietseat surge 'water 20 °C, 7 bar(g)' 'R290 liquid, 35 °C, 5 K subcooled'\n  \
                        quietseat surge 'R717 liquid, -10 °C, 2 K subcooled' --pipe 'DN 25 steel' --kv '6 Kv'\n  \
                        quietseat surge --pipe '7/8 in ACR' --length '33 ft' --velocity '3 ft/s' --json\n\n\
                        How to read it: the surge of a sudden stop is ρ·a times the velocity that is stopped. Sudden is a\n\
                        stop within 2L/a, the time in which the wave runs to the far end of the line and comes back. Behind\n\
                        the valve the pressure falls by as much at once, and upstream after 2L/a; where it would fall below\n\
                        the vapour pressure, the liquid boils and a cavity opens, which slams shut later. \"none would\" says\n\
                        that no subcooling at this pressure avoids it. \"bears\" is the velocity whose sudden stop the margin\n\
                        to boiling just bears upstream.\n\n\
                        Nothing is simulated: quietseat run and quietseat closing tell how a real closing differs.")]
pub(super) struct Surge {
    /// Fluids and their states in words, each in quotation marks, as quietseat fluid takes them. Unless stated: water, R134a,
    /// R410A, R290, R717 and R744, each as a usual liquid line holds it.
    #[arg(value_name = "STATE")]
    pub(super) states: Vec<String>,
    /// The pipe by its name in the trade: "22 x 1 copper", "7/8 in ACR", "DN 20 steel", "32 PE SDR 11".
    #[arg(long, value_name = "PIPE", default_value = "22 x 1 copper")]
    pub(super) pipe: String,
    /// Length of the line upstream of the valve, with its unit.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, default_value = "10 m")]
    pub(super) length: String,
    /// Where the line is held lengthwise.
    #[arg(long, value_enum, default_value_t = Held::Throughout)]
    pub(super) support: Held,
    /// Flow coefficient of the open valve, "2 Kv" or "2.3 Cv".
    #[arg(
        long,
        value_name = "COEFFICIENT",
        allow_hyphen_values = true,
        default_value = "2 Kv",
        conflicts_with = "velocity"
    )]
    pub(super) kv: String,
    /// Differential across the open valve, which with the flow coefficient gives each fluid its velocity.
    #[arg(
        long,
        value_name = "DIFFERENCE",
        allow_hyphen_values = true,
        default_value = "0.1 bar",
        conflicts_with = "velocity"
    )]
    pub(super) differential: String,
    /// The same velocity for every fluid, instead of a valve.
    #[arg(long, value_name = "VELOCITY", allow_hyphen_values = true)]
    pub(super) velocity: Option<String>,
    /// Atmospheric pressure, from which gauge pressures count.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true, default_value = "1.01325 bar(a)")]
    pub(super) atmosphere: String,
    /// Directory for the table (CSV) and the figure (SVG, PNG); made if missing.
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub(super) out: PathBuf,
    /// Print one JSON document in SI base units on stdout instead of text.
    #[arg(long)]
    pub(super) json: bool,
    /// No remarks on stderr; errors stay.
    #[arg(long, short)]
    pub(super) quiet: bool,
}

/// Where a line is held lengthwise.
#[derive(Clone, Copy, clap::ValueEnum)]
pub(super) enum Held {
    /// All along: it cannot stretch.
    Throughout,
    /// At its upstream end only.
    Upstream,
    /// Nowhere, as between expansion joints.
    Joints,
}

/// A whole number, from 0.
fn whole(text: &str) -> Result<usize, String> {
    text.trim().parse().map_err(|_| "wanted a whole number such as 2, or 0 for every core".to_owned())
}
