//! Coefficients of the Rosenbrock methods.
//!
//! They are given in the transformed form that needs no product with the Jacobian (E. Hairer, G. Wanner, "Solving Ordinary
//! Differential Equations II", 2nd ed. 1996, section IV.7, cited from memory). With J = ∂f/∂y, the increments U of one
//! step of length h solve
//!
//! ```text
//!   (I/(hγ) − J)·Uᵢ = f(t + αᵢh, y + Σⱼ aᵢⱼUⱼ) + Σⱼ (cᵢⱼ/h)·Uⱼ + h·dᵢ·∂f/∂t        j < i
//! ```
//!
//! Both methods are stiffly accurate with αₛ = 1: the new state is the argument of the last stage plus its increment, and
//! that last increment is also the difference to the embedded solution, hence the error estimate.

/// A stiffly accurate Rosenbrock method of `S` stages.
#[derive(Clone, Debug)]
pub struct Tableau<const S: usize> {
    /// Order of convergence of the solution that is carried on; the embedded one has one less.
    pub order: u8,
    /// γ, shared by all stages so that one factorisation serves them all.
    pub diagonal: f64,
    /// αᵢ: times of the stages in steps.
    pub times: [f64; S],
    /// dᵢ: factors of ∂f/∂t.
    pub time_slopes: [f64; S],
    /// aᵢⱼ: increments in the arguments of the stages.
    pub arguments: [[f64; S]; S],
    /// cᵢⱼ: increments in the right-hand sides.
    pub couplings: [[f64; S]; S],
    /// From this stage on, the argument is the one before it plus the increment before it; saves summing anew.
    pub first_continuing: usize,
    /// wᵢ: weights of the stages for quantities that are only integrated along.
    pub weights: [f64; S],
    /// Σ wᵢdᵢ.
    pub weighted_time_slope: f64,
}

impl<const S: usize> Tableau<S> {
    const fn new(
        order: u8,
        diagonal: f64,
        times: [f64; S],
        time_slopes: [f64; S],
        arguments: &[&[f64]],
        couplings: &[&[f64]],
    ) -> Self {
        assert!(couplings.len() == S);
        let first_continuing = arguments.len();
        let arguments = lower_triangle(arguments);
        let couplings = lower_triangle(couplings);
        let weights = quadrature_weights(diagonal, &arguments, &couplings);
        let mut weighted_time_slope = 0.0;
        let mut i = 0;
        while i < S {
            weighted_time_slope += weights[i] * time_slopes[i];
            i += 1;
        }
        Tableau {
            order,
            diagonal,
            times,
            time_slopes,
            arguments,
            couplings,
            first_continuing,
            weights,
            weighted_time_slope,
        }
    }
}

/// Fill the rows of a square with zeros. Stages without a row of their own continue the row before them: the same
/// increments, and once the one before.
const fn lower_triangle<const S: usize>(rows: &[&[f64]]) -> [[f64; S]; S] {
    let mut square = [[0.0; S]; S];
    let mut i = 0;
    while i < S {
        if i < rows.len() {
            assert!(rows[i].len() <= i, "explicit stages use earlier ones only");
            let mut j = 0;
            while j < rows[i].len() {
                square[i][j] = rows[i][j];
                j += 1;
            }
        } else {
            square[i] = square[i - 1];
            square[i][i - 1] = 1.0;
        }
        i += 1;
    }
    square
}

/// Weights w with wᵀ = mᵀ(I/γ − c)⁻¹, m being the weights of the increments in the new state.
///
/// A quantity z with dz/dt = g(t, y) that does not feed back has, in the same method, increments V with
/// V/γ − c·V = h·(g + h·d·∂g/∂t + ∂g/∂y·U) over all stages, and grows by mᵀV. Taking the inverse to the left once and for
/// all gives its growth without the V: h·(Σ wᵢgᵢ + h·(Σ wᵢdᵢ)·∂g/∂t + ∂g/∂y·Σ wᵢUᵢ). For z = a state this is that state's
/// own increment, identically, so linear invariants between states and integrals are kept to rounding.
const fn quadrature_weights<const S: usize>(
    diagonal: f64,
    arguments: &[[f64; S]; S],
    couplings: &[[f64; S]; S],
) -> [f64; S] {
    let mut weights = [0.0; S];
    let mut i = S;
    while i > 0 {
        i -= 1;
        // stiff accuracy: the last increment enters the new state once, the others as in the last argument
        let mut sum = if i == S - 1 { 1.0 } else { arguments[S - 1][i] };
        let mut later = i + 1;
        while later < S {
            sum += couplings[later][i] * weights[later];
            later += 1;
        }
        weights[i] = diagonal * sum;
    }
    weights
}

/// Rodas5P of order 5(4): G. Steinebach, "Construction of Rosenbrock–Wanner method Rodas5P and numerical benchmarks within
/// the Julia Differential Equations package", BIT Numerical Mathematics 63 (2023) 27.
pub static RODAS5P: Tableau<8> = Tableau::new(
    5,
    0.21193756319429014,
    [0.0, 0.6358126895828704, 0.4095798393397535, 0.9769306725060716, 0.4288403609558664, 1.0, 1.0, 1.0],
    [
        0.21193756319429014,
        -0.42387512638858027,
        -0.3384627126235924,
        1.8046452872882734,
        2.325825639765069,
        0.0,
        0.0,
        0.0,
    ],
    &[
        &[],
        &[3.0],
        &[2.849394379747939, 0.45842242204463923],
        &[-6.954028509809101, 2.489845061869568, -10.358996098473584],
        &[2.8029986275628964, 0.5072464736228206, -0.3988312541770524, -0.04721187230404641],
        &[-7.502846399306121, 2.561846144803919, -11.627539656261098, -0.18268767659942256, 0.030198172008377946],
    ],
    &[
        &[],
        &[-14.155112264123755],
        &[-17.97296035885952, -2.859693295451294],
        &[147.12150275711716, -1.41221402718213, 71.68940251302358],
        &[165.43517024871676, -0.4592823456491126, 42.90938336958603, -5.961986721573306],
        &[24.854864614690072, -3.0009227002832186, 47.4931110020768, 5.5814197821558125, -0.6610691825249471],
        &[
            30.91273214028599,
            -3.1208243349937974,
            77.79954646070892,
            34.28646028294783,
            -19.097331116725623,
            -28.087943162872662,
        ],
        &[
            37.80277123390563,
            -3.2571969029072276,
            112.26918849496327,
            66.9347231244047,
            -40.06618937091002,
            -54.66780262877968,
            -9.48861652309627,
        ],
    ],
);

/// RODAS of order 4(3): E. Hairer, G. Wanner, "Solving Ordinary Differential Equations II", 2nd ed. 1996, section IV.7
/// (first set of coefficients).
pub static RODAS: Tableau<6> = Tableau::new(
    4,
    0.25,
    [0.0, 0.386, 0.21, 0.63, 1.0, 1.0],
    [0.25, -0.1043, 0.1035, -0.0362, 0.0, 0.0],
    &[
        &[],
        &[1.544],
        &[0.9466785280815826, 0.2557011698983284],
        &[3.314825187068521, 2.896124015972201, 0.9986419139977817],
        &[1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895],
    ],
    &[
        &[],
        &[-5.6688],
        &[-2.430093356833875, -0.2063599157091915],
        &[-0.1073529058151375, -9.594562251023355, -20.47028614809616],
        &[7.496443313967647, -10.24680431464352, -33.99990352819905, 11.7089089320616],
        &[8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054],
    ],
);

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};

    /// Rooted trees of the orders 1 to 5, each pair of brackets a vertex around its children.
    const TREES: [&str; 17] = [
        "()",
        "(())",
        "(()())",
        "((()))",
        "(()()())",
        "(()(()))",
        "((()()))",
        "(((())))",
        "(()()()())",
        "(()()(()))",
        "((())(()))",
        "(()(()()))",
        "(()((())))",
        "((()()()))",
        "((()(())))",
        "(((()())))",
        "((((()))))",
    ];

    /// The method before transformation: α, β = α + Γ, and weights b.
    struct Classical {
        alpha: DMatrix<f64>,
        gamma: DMatrix<f64>,
        weights: DVector<f64>,
        embedded_weights: DVector<f64>,
    }

    impl Classical {
        /// Γ = (I/γ − c)⁻¹, α = aΓ, bᵀ = mᵀΓ.
        fn of<const S: usize>(tableau: &Tableau<S>) -> Self {
            let square = |rows: &[[f64; S]; S]| DMatrix::from_fn(S, S, |i, j| rows[i][j]);
            let inverse = DMatrix::identity(S, S) / tableau.diagonal - square(&tableau.couplings);
            let gamma = inverse.try_inverse().expect("triangular with non-zero diagonal");
            let alpha = square(&tableau.arguments) * &gamma;
            let mut last = DVector::from_column_slice(&tableau.arguments[S - 1]);
            let embedded_weights = gamma.transpose() * &last;
            last[S - 1] = 1.0;
            let weights = gamma.transpose() * last;
            Classical { alpha, gamma, weights, embedded_weights }
        }

        /// Elementary weights of a tree stage by stage, its number of vertices, and its density: a vertex with one child
        /// sums with β, a vertex with several with α (Hairer and Wanner II, section IV.7, cited from memory).
        fn elementary(&self, tree: &str) -> (DVector<f64>, usize, usize) {
            let children = children(tree);
            let beta = &self.alpha + &self.gamma;
            let matrix = if children.len() == 1 { &beta } else { &self.alpha };
            let mut product = DVector::from_element(self.weights.len(), 1.0);
            let (mut vertices, mut density) = (1, 1);
            for child in children {
                let (weights, count, child_density) = self.elementary(child);
                product.component_mul_assign(&(matrix * weights));
                vertices += count;
                density *= child_density;
            }
            (product, vertices, density * vertices)
        }

        /// Largest violation of the conditions up to `order` by the given weights, and smallest of those one above.
        fn violation(&self, weights: &DVector<f64>, order: usize) -> (f64, f64) {
            let (mut within, mut above) = (0.0_f64, 0.0_f64);
            for tree in TREES {
                let (elementary, vertices, density) = self.elementary(tree);
                let excess = (weights.dot(&elementary) - 1.0 / density as f64).abs();
                if vertices <= order {
                    within = within.max(excess);
                } else if vertices == order + 1 {
                    above = above.max(excess);
                }
            }
            (within, above)
        }
    }

    fn children(tree: &str) -> Vec<&str> {
        let inner = &tree[1..tree.len() - 1];
        let (mut depth, mut start, mut found) = (0, 0, Vec::new());
        for (i, bracket) in inner.char_indices() {
            depth += if bracket == '(' { 1 } else { -1 };
            if depth == 0 {
                found.push(&inner[start..=i]);
                start = i + 1;
            }
        }
        found
    }

    /// Largest violation of everything the coefficients have to satisfy.
    fn worst_violation<const S: usize>(tableau: &Tableau<S>) -> f64 {
        let classical = Classical::of(tableau);
        let order = usize::from(tableau.order);
        let mut worst = classical.violation(&classical.weights, order).0;
        worst = worst.max(classical.violation(&classical.embedded_weights, order - 1).0);
        for i in 0..S {
            worst = worst.max((classical.alpha.row(i).sum() - tableau.times[i]).abs());
            worst = worst.max((classical.gamma.row(i).sum() - tableau.time_slopes[i]).abs());
            // stiff accuracy in the classical form: the last rows of β and α are the two sets of weights
            let last = classical.alpha[(S - 1, i)] + classical.gamma[(S - 1, i)];
            worst = worst.max((last - classical.weights[i]).abs());
        }
        worst
    }

    /// Rounding of the coefficients and of the inverse leaves 2e-14; five times as much is left for other machines.
    const TOLERANCE: f64 = 1e-13;

    #[test]
    fn order_conditions_hold() {
        let (five, four) = (worst_violation(&RODAS5P), worst_violation(&RODAS));
        assert!(five < TOLERANCE, "Rodas5P violates its conditions by {five:e}");
        assert!(four < TOLERANCE, "RODAS violates its conditions by {four:e}");
    }

    /// The embedded solutions must not be of the higher order, else they could not show an error.
    #[test]
    fn embedded_solutions_are_of_one_order_less() {
        let embedded = |classical: Classical, order| classical.violation(&classical.embedded_weights.clone(), order).1;
        assert!(embedded(Classical::of(&RODAS5P), 4) > 1e-4);
        assert!(embedded(Classical::of(&RODAS), 3) > 1e-4);
    }

    /// One digit typed wrongly anywhere, down to the tenth after the point, must break a condition.
    #[test]
    fn a_wrong_digit_is_noticed() {
        fn each_entry<const S: usize>(tableau: &Tableau<S>) {
            let spoil = |change: &dyn Fn(&mut Tableau<S>) -> &mut f64| {
                let mut spoilt = tableau.clone();
                let entry = change(&mut spoilt);
                if *entry != 0.0 {
                    *entry += 1e-10;
                    let worst = worst_violation(&spoilt);
                    assert!(worst > TOLERANCE, "not noticed: {worst:e}");
                }
            };
            spoil(&|t| &mut t.diagonal);
            for i in 0..S {
                spoil(&|t| &mut t.times[i]);
                spoil(&|t| &mut t.time_slopes[i]);
                for j in 0..i {
                    spoil(&|t| &mut t.arguments[i][j]);
                    spoil(&|t| &mut t.couplings[i][j]);
                }
            }
        }
        each_entry(&RODAS5P);
        each_entry(&RODAS);
    }

    /// The weights of the running integrals are the classical weights b, found here by a general inverse.
    #[test]
    fn weights_of_integrals_are_the_classical_ones() {
        let expected = Classical::of(&RODAS5P).weights;
        for (weight, expected) in RODAS5P.weights.iter().zip(expected.iter()) {
            assert!((weight - expected).abs() < TOLERANCE);
        }
        let slopes: f64 = RODAS5P.weights.iter().zip(&RODAS5P.time_slopes).map(|(w, d)| w * d).sum();
        assert!((slopes - RODAS5P.weighted_time_slope).abs() < 1e-15);
    }
}
