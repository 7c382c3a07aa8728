//! States of real gases with what they do, computed with CoolProp 8.0.0 (reference equations of state of each fluid).

use quietseat::physics::fluid::Gas;

/// A gas at rest at (T, p).
pub(crate) struct State {
    /// Name.
    pub(crate) name: &'static str,
    /// Temperature, K; pressure, Pa absolute; density, kg/m³.
    pub(crate) at: [f64; 3],
    /// κ = ρ·a²/p; c_p and c_v, J/(kg·K); viscosity, Pa·s.
    pub(crate) kappa: f64,
    pub(crate) heats: [f64; 2],
    pub(crate) viscosity: f64,
    /// Critical pressure ratio and choked flux, kg/(s·m²): the largest flux along the isentrope.
    pub(crate) critical_ratio: f64,
    pub(crate) flux: f64,
}

impl State {
    /// √(p·ρ), kg/(s·m²).
    pub(crate) fn flux_scale(&self) -> f64 {
        (self.at[1] * self.at[2]).sqrt()
    }

    pub(crate) fn gas(&self) -> Gas {
        let [temperature, pressure, density] = self.at;
        Gas {
            gas_constant: pressure / (density * temperature),
            isentropic_exponent: self.kappa,
            temperature,
            viscosity: self.viscosity,
            critical_pressure_ratio: self.critical_ratio,
            critical_flow_factor: self.flux / self.flux_scale(),
            heat_capacity_ratio: self.heats[0] / self.heats[1],
            isobaric_heat_capacity: self.heats[0],
        }
    }
}

/// R134a at 40 °C and 8 bar, 8.7 K above its dew point.
pub(crate) const R134A: State = State {
    name: "R134a",
    at: [313.15, 8e5, 36.988080195],
    kappa: 1.006723433,
    heats: [1036.2073877, 849.0276314],
    viscosity: 1.2344610e-5,
    critical_ratio: 0.596423811,
    flux: 3332.1963664,
};

/// R290 (propane) at 40 °C and 12 bar, 5.6 K above its dew point.
pub(crate) const R290: State = State {
    name: "R290",
    at: [313.15, 12e5, 25.231534556],
    kappa: 0.986714556,
    heats: [2124.6536005, 1649.9430386],
    viscosity: 8.7846798e-6,
    critical_ratio: 0.596765045,
    flux: 3357.7528625,
};

/// R744 (carbon dioxide) at 40 °C and 40 bar.
pub(crate) const R744: State = State {
    name: "R744",
    at: [313.15, 40e5, 83.757697334],
    kappa: 1.270192121,
    heats: [1252.6724900, 770.7121931],
    viscosity: 1.6509455e-5,
    critical_ratio: 0.550356665,
    flux: 12_114.693686,
};

/// Methane at 20 °C and 10 bar.
pub(crate) const METHANE: State = State {
    name: "methane",
    at: [293.15, 10e5, 6.704635850],
    kappa: 1.309814493,
    heats: [2277.0631877, 1706.8358819],
    viscosity: 1.1160890e-5,
    critical_ratio: 0.541930396,
    flux: 1735.1634553,
};

/// Nitrogen at 20 °C and 10 bar.
pub(crate) const NITROGEN: State = State {
    name: "nitrogen",
    at: [293.15, 10e5, 11.518355025],
    kappa: 1.414889637,
    heats: [1056.7398123, 745.4160755],
    viscosity: 1.7700041e-5,
    critical_ratio: 0.527018903,
    flux: 2330.0925588,
};

/// Air at 20 °C and 10 bar.
pub(crate) const AIR: State = State {
    name: "air",
    at: [293.15, 10e5, 11.924981134],
    kappa: 1.413924280,
    heats: [1021.2155326, 719.9602491],
    viscosity: 1.8342669e-5,
    critical_ratio: 0.526975428,
    flux: 2370.7108160,
};

/// Air at 20 °C and 1.01325 bar.
pub(crate) const THIN_AIR: State = State {
    name: "air",
    at: [293.15, 101_325.0, 1.204575182],
    kappa: 1.401444633,
    heats: [1006.1440321, 717.6655299],
    viscosity: 1.8205675e-5,
    critical_ratio: 0.527992357,
    flux: 239.31437736,
};

/// All of them.
pub(crate) const ALL: [State; 7] = [R134A, R290, R744, METHANE, NITROGEN, AIR, THIN_AIR];

/// Flux over √(p·ρ) along the isentrope at ratios above the critical one: R134a, R290, R744 at the states above.
pub(crate) const FLUXES: [(f64, [f64; 3]); 6] = [
    (0.98, [0.1970132967, 0.1969545877, 0.1976264948]),
    (0.95, [0.3043807169, 0.3041588273, 0.3067751026]),
    (0.90, [0.4135024311, 0.4129228068, 0.4201332898]),
    (0.80, [0.5358524090, 0.5344839876, 0.5537767992]),
    (0.70, [0.5945118901, 0.5924943880, 0.6258227260]),
    (0.65, [0.6079049650, 0.6056745364, 0.6462861012]),
];

/// Density over that at rest along the isentrope, at pressures over that at rest: R134a, R290.
pub(crate) const ISENTROPES: [(f64, [f64; 2]); 4] = [
    (0.90, [0.9010133888, 0.8993075086]),
    (0.75, [0.7537020435, 0.7505446802]),
    (0.50, [0.5103329047, 0.5074001597]),
    (0.25, [0.2664899339, 0.2660066958]),
];
