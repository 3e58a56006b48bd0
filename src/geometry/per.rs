//! Pairs of things, one for each ring, flank, stroke or side of a sliding gear.

/// Gives an enum of two variants a pair type that is indexed by it, so that no order has to be remembered.
macro_rules! per {
    ($(#[$doc:meta])* $per:ident of $key:ident: $first:ident is $First:ident, $second:ident is $Second:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
        pub struct $per<T> {
            #[doc = concat!("Of [`", stringify!($key), "::", stringify!($First), "`].")]
            pub $first: T,
            #[doc = concat!("Of [`", stringify!($key), "::", stringify!($Second), "`].")]
            pub $second: T,
        }

        impl<T> $per<T> {
            /// Makes one for each.
            pub fn from_fn(mut make: impl FnMut($key) -> T) -> Self {
                Self { $first: make($key::$First), $second: make($key::$Second) }
            }

            /// What becomes of each.
            pub fn map<U>(self, mut to: impl FnMut(T) -> U) -> $per<U> {
                $per { $first: to(self.$first), $second: to(self.$second) }
            }

            /// Each borrowed.
            pub const fn each_ref(&self) -> $per<&T> {
                $per { $first: &self.$first, $second: &self.$second }
            }

            /// Both, the first one first.
            pub const fn as_array(&self) -> [&T; 2] {
                [&self.$first, &self.$second]
            }

            /// Both, the first one first.
            pub fn into_array(self) -> [T; 2] {
                [self.$first, self.$second]
            }

            /// Both borrowed, the first one first.
            pub fn iter(&self) -> std::array::IntoIter<&T, 2> {
                self.as_array().into_iter()
            }

            /// Both to change, the first one first.
            pub fn iter_mut(&mut self) -> std::array::IntoIter<&mut T, 2> {
                [&mut self.$first, &mut self.$second].into_iter()
            }
        }

        impl<T: Clone> $per<T> {
            /// The same for both.
            pub fn both(same: T) -> Self {
                Self { $first: same.clone(), $second: same }
            }
        }

        impl<T> From<[T; 2]> for $per<T> {
            fn from([$first, $second]: [T; 2]) -> Self {
                Self { $first, $second }
            }
        }

        impl<T> std::ops::Index<$key> for $per<T> {
            type Output = T;

            fn index(&self, key: $key) -> &T {
                match key {
                    $key::$First => &self.$first,
                    $key::$Second => &self.$second,
                }
            }
        }

        impl<T> std::ops::IndexMut<$key> for $per<T> {
            fn index_mut(&mut self, key: $key) -> &mut T {
                match key {
                    $key::$First => &mut self.$first,
                    $key::$Second => &mut self.$second,
                }
            }
        }

        impl<'a, T> IntoIterator for &'a $per<T> {
            type Item = &'a T;
            type IntoIter = std::array::IntoIter<&'a T, 2>;

            fn into_iter(self) -> Self::IntoIter {
                self.iter()
            }
        }

        impl<T> IntoIterator for $per<T> {
            type Item = T;
            type IntoIter = std::array::IntoIter<T, 2>;

            fn into_iter(self) -> Self::IntoIter {
                self.into_array().into_iter()
            }
        }
    };
}
pub(crate) use per;
