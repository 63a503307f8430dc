/* SPDX-License-Identifier: MIT
 * Main directions of a sum of squares. */
#ifndef VUGI_BASE_EIGEN_H
#define VUGI_BASE_EIGEN_H

/* Unit eigenvector of the smallest eigenvalue of a symmetric matrix, which is overwritten, by Jacobi rotations. */
void vugi_smallest_eigenvector(double m[3][3], double out[3]);

#endif
