//! Where a bang on opening is possible, of which the model knows nothing: the valve opens onto a line that is not full of what
//! flows through it, and what rushes in strikes what it finds there. Such a duty is told to be not judged.

use super::boiling::{cavity_floor, drains_to_saturation};
use crate::indicator::Energised;
use crate::physics::fluid::{Gas, Phase};
use crate::physics::parts::Port;
use crate::scenario::{NamedFluid, Scenario};
use crate::simulate::Record;
use crate::units::{Dimension, text};

/// An open end within this of the atmosphere may run empty, Pa. Judgement: half a metre of water.
const NEAR_ATMOSPHERE: f64 = 5e3;
/// Gas of less than this share of a port's volume is what every liquid carries. Judgement.
const POCKET: f64 = 1e-3;
/// Gas that condenses this much above what is left behind the valve condenses on it quickly, K. Judgement: below, little heat
/// flows in the time of an opening.
const WARMER: f64 = 5.0;
/// Above this exponent a gas stated by numbers is taken for one that does not condense, such as air (1.4); vapours lie from 1.0
/// to 1.3. Judgement.
const PERMANENT: f64 = 1.35;
/// A vapour of numbers alone that loses less than this share of its pressure condenses on nothing. Judgement: some 5 K.
const SMALL_FALL: f64 = 0.15;

/// What makes a bang on opening possible, each cause in words; none where it is not.
pub fn may_bang(scenario: &Scenario) -> Vec<String> {
    match &scenario.fluid.phase {
        Phase::Liquid(liquid) => onto_an_empty_line(scenario, liquid.vapour_pressure),
        Phase::Gas(gas) => condensing(scenario, gas).into_iter().collect(),
    }
}

/// What a check valve in a line does that is not computed.
pub fn of_check_valves(scenario: &Scenario) -> Vec<String> {
    let lines = [("upstream", &scenario.upstream), ("downstream", &scenario.downstream)];
    let checked = lines.into_iter().filter(|(_, line)| line.fittings.check_valve.is_some());
    checked
        .map(|(name, _)| {
            format!(
                "Of the check valve in the {name} line only its loss is computed: not that it shuts, traps what a closing surge leaves \
                 behind it, and slams."
            )
        })
        .collect()
}

fn onto_an_empty_line(scenario: &Scenario, vapour: f64) -> Vec<String> {
    let (sink, valve) = (&scenario.sink, &scenario.valve);
    let pocket = |port: &Port| port.gas > POCKET * port.volume;
    let mut causes = Vec::new();
    if drains_to_saturation(scenario) {
        causes.push(
            "while the valve is shut the throttle at the line's end, which flashes, drains the line behind it; the liquid that \
             rushes into the emptied line strikes what is left there"
                .to_owned(),
        );
    } else if sink.drained <= vapour {
        causes.push(
            "the line behind the valve ends below the liquid's vapour pressure and empties while it is shut".into(),
        );
    } else if sink.drained <= scenario.atmosphere + NEAR_ATMOSPHERE {
        causes.push(
            "the line behind the valve ends at the pressure of the atmosphere and may run empty while it is shut; the liquid \
             then fills it at once"
                .into(),
        );
    }
    if pocket(&valve.inlet) {
        causes.push(
            "the air pocket before the valve may be blown through it, and the liquid behind the air strikes".into(),
        );
    }
    if pocket(&valve.outlet) {
        causes.push("the air pocket behind the valve may leave it, and the liquid then strikes where it was".into());
    }
    causes
}

/// A gas that meets liquid at the sink's saturation, colder than its own saturation: it condenses on that liquid as fast as it
/// comes, and throws it. So in a defrost; not on the suction side, where both pressures are nearly one.
fn condensing(scenario: &Scenario, gas: &Gas) -> Option<String> {
    let (supply, sink) = (scenario.supply.pressure, scenario.sink.drained);
    let Some(NamedFluid { medium, .. }) = &scenario.named else {
        let fall = sink < (1.0 - SMALL_FALL) * supply && gas.isentropic_exponent < PERMANENT;
        return fall.then(|| {
            "whether this gas condenses on liquid or cold pipe behind the valve is not known from its numbers; where it does, \
             it throws liquid"
                .to_owned()
        });
    };
    let warmer = medium.dew_temperature(supply).ok()? - medium.dew_temperature(sink).ok()?;
    (warmer > WARMER).then(|| {
        format!(
            "this gas condenses at a temperature {} above that of liquid left behind the valve: on cold pipe and liquid it \
             condenses as fast as it comes and throws the liquid (as in a defrost)",
            text(warmer, Dimension::TemperatureDifference)
        )
    })
}

/// A cavity that still stands at a port when the run ends: the next opening strikes it shut.
pub fn cavity_left(record: &Record, energised: Energised) -> Option<String> {
    let ports = [(&record.installation.inlet, "before"), (&record.installation.outlet, "behind")];
    ports.into_iter().zip(["inlet_gas_volume", "outlet_gas_volume"]).find_map(|((port, side), channel)| {
        let last = record.trace.values(channel).last().copied()?;
        (!record.installation.is_gas() && last > cavity_floor(port)).then(|| {
            format!(
                "{} of vapour still stand {side} the valve when the {} ends; the next opening strikes the cavity shut",
                text(last, Dimension::Volume),
                energised.shut_time()
            )
        })
    })
}
