//! The cycle is found from whatever a trace holds: as it is told, or from any one channel that shows it.

use crate::demo;
use quietseat::indicator::phase::last_cycle;
use quietseat::study::examine::examine;
use quietseat::trace::{EventKind, Trace};

/// A run's trace without the events that say what is asked, and of all channels only one.
fn recorded(trace: &Trace, channel: &str) -> Trace {
    let mut only = trace.clone();
    only.events.retain(|event| !matches!(event.kind, EventKind::AskedOpen | EventKind::AskedShut));
    only.channels.retain(|found| found.quantity.name == channel);
    only
}

/// Direct and alternating current, a servo valve and a direct-operated one; seen from the coil to a tick of the record, from what moves
/// and flows by its dead time later. The water demonstration's chatter at switching off is no second cycle.
#[test]
fn any_channel_tells_the_cycle() {
    for (name, channels) in [
        ("water-bang", &["coil_voltage", "coil_current", "armature_travel", "lift", "main_flow", "inlet_flow"][..]),
        ("ac-ring", &["coil_voltage", "coil_current", "armature_travel", "lift", "outlet_flow"]),
        ("water-direct", &["coil_voltage", "coil_current", "lift", "main_flow"]),
        ("water-forced-lift", &["coil_voltage", "coil_current", "armature_travel", "lift"]),
        ("glycol-plant", &["outlet_pressure", "inlet_pressure", "lift"]),
    ] {
        let examined = examine(&demo::scenario(name, &[])).expect("a run");
        let trace = &examined.record.trace;
        let closing = examined.indicators.closing_time.expect("it shuts");
        let told = last_cycle(trace).expect("it is told");
        for channel in channels {
            let found = last_cycle(&recorded(trace, channel)).unwrap_or_else(|| panic!("{name}: nothing in {channel}"));
            let late = if channel.starts_with("coil") { 0.03 } else { 0.3 + closing };
            for (what, truth, seen) in [("open", told.open, found.open), ("shut", told.shut, found.shut)] {
                assert!(
                    seen > truth - 0.03 && seen < truth + late,
                    "{name}, {channel}: {what} {seen} s, truly {truth} s"
                );
            }
        }
        assert_eq!(last_cycle(&recorded(trace, "atmosphere")), None, "no channel, no cycle");
    }
}

/// A channel that stands still, or a record that begins open, tells no cycle.
#[test]
fn what_shows_no_change_tells_nothing() {
    let examined = examine(&demo::scenario("water-bang", &[])).expect("a run");
    let mut still = recorded(&examined.record.trace, "lift");
    still.channels[0].values.fill(1e-3);
    assert_eq!(last_cycle(&still), None);
    let mut begun = recorded(&examined.record.trace, "coil_voltage");
    begun.channels[0].values[0] = begun.channels[0].values[2];
    assert_eq!(last_cycle(&begun), None);
}
