//! Many pieces of work side by side, with the feature `parallel`; without it one after another. Results keep their order, so
//! they are the same either way.

#[cfg(not(feature = "parallel"))]
pub(crate) use one_after_another::*;
#[cfg(feature = "parallel")]
pub(crate) use rayon::prelude::*;

/// The names that the studies use, on plain iterators: for one thread, as in a page.
#[cfg(not(feature = "parallel"))]
mod one_after_another {
    use std::iter::FlatMap;
    use std::slice::{Iter, IterMut};

    pub(crate) trait ByReference<T> {
        fn par_iter(&self) -> Iter<'_, T>;
        fn par_iter_mut(&mut self) -> IterMut<'_, T>;
    }

    impl<T> ByReference<T> for [T] {
        fn par_iter(&self) -> Iter<'_, T> {
            self.iter()
        }
        fn par_iter_mut(&mut self) -> IterMut<'_, T> {
            self.iter_mut()
        }
    }

    pub(crate) trait ByValue: IntoIterator + Sized {
        fn into_par_iter(self) -> Self::IntoIter {
            self.into_iter()
        }
    }

    impl<I: IntoIterator> ByValue for I {}

    pub(crate) trait Plain: Iterator + Sized {
        fn flat_map_iter<U: IntoIterator, F: FnMut(Self::Item) -> U>(self, several: F) -> FlatMap<Self, U, F> {
            self.flat_map(several)
        }
        /// How many pieces one thread takes at a time: a single thread takes them one by one.
        #[cfg(feature = "book")]
        fn with_max_len(self, _most: usize) -> Self {
            self
        }
    }

    impl<I: Iterator> Plain for I {}
}
