use quietseat::scenario::Document;
use quietseat::study::examine::examine;
#[test]
fn probe() {
    let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/");
    for f in ["air-low-differential", "water-bang", "water-chatter", "liquid-refrigerant", "ac-ring", "ac-no-ring"] {
        let d = Document::open(std::path::Path::new(&format!("{dir}{f}.toml"))).unwrap();
        let (s, w) = d.scenario().unwrap();
        for w in w { println!("{w}"); }
        let t = std::time::Instant::now();
        match examine(&s) {
            Ok(e) => {
                println!("== {f} {:.0} ms, simulated {:.2} s, {:?} residue {:.1e}", t.elapsed().as_secs_f64() * 1e3, e.record.duration, e.record.counters, e.record.residue());
                for x in &e.verdict.findings { println!("   {:?} {:.2} {}", x.behaviour, x.margin, x.reason); }
                for i in e.indicators.list() { if let Some(v) = i.value { let (n, u) = quietseat::units::show(v, i.dimension, quietseat::units::UnitSystem::Si); print!("{} {n} {u}; ", i.name); } }
                println!();
            }
            Err(e) => println!("== {f} ERR {e}"),
        }
    }
}
