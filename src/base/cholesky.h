#ifndef HBK_BASE_CHOLESKY_H
#define HBK_BASE_CHOLESKY_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Symmetric positive definite matrices of n rows, stored whole, row by row:
 * element (i, k) is a[i * n + k]. Only the lower triangle is read.
 *
 * Source: A = L L^T, any textbook of numerical linear algebra.
 */

/*
 * Replaces the lower triangle of `a` by L. Returns false, with `a` partly
 * overwritten, if a pivot is not above zero: the matrix is not positive
 * definite, or holds a NaN.
 */
bool hbk_cholesky(size_t n, double a[]);

/* Solves L L^T x = b in place of b. */
void hbk_cholesky_solve(size_t n, const double factor[], double b[]);

/* The inverse of the matrix whose factor is given, whole and symmetric. */
void hbk_cholesky_inverse(size_t n, const double factor[], double inverse[]);

/* The natural logarithm of the determinant of the matrix. */
double hbk_cholesky_log_det(size_t n, const double factor[]);

#endif
