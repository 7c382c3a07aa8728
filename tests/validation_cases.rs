//! Every case of the validation book holds.

use quietseat::validation::*;

#[test]
fn every_case_holds() {
    let all = [
        armature_flight::cases(),
        bistability::cases(),
        closed_energy::cases(),
        coil_circuit::cases(),
        contact::cases(),
        copper_winding::cases(),
        impact::cases(),
        limit_cycle::cases(),
        magnet::cases(),
        relief_installation::cases(),
        shading_ring::cases(),
        signal::cases(),
        solver::cases(),
    ];
    let mut failures = Vec::new();
    for case in all.into_iter().flatten() {
        let started = std::time::Instant::now();
        let checks = (case.checks)();
        println!("{} ({}) {:.2} s", case.name, case.folder, started.elapsed().as_secs_f64());
        match checks {
            Err(cause) => failures.push(format!("{}: {cause}", case.name)),
            Ok(checks) => {
                for check in checks {
                    println!(
                        "   {} {:<70} {:>20.13e} {:>20.13e} {:.1e} of {:?}",
                        if check.holds() { "  " } else { "!!" },
                        check.quantity,
                        check.ours,
                        check.reference,
                        check.deviation(),
                        check.tolerance
                    );
                    if !check.holds() {
                        failures.push(format!("{}: {}", case.name, check.quantity));
                    }
                }
            }
        }
        let readme = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("validation").join(case.folder);
        assert!(readme.join("README.md").exists(), "{} has no README", case.folder);
    }
    assert!(failures.is_empty(), "{failures:#?}");
}
