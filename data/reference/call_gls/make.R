# The same as make.py, by base R and another road: whitening with the upper Cholesky factor and ordinary
# least squares by QR. Usage: Rscript make.R OUTDIR
out <- commandArgs(trailingOnly = TRUE)[1]
blocks <- read.csv("blocks.csv")
scales <- read.csv("scales.csv")

fit <- function(b, q, g, s) {
  X <- as.matrix(b[, c("share_a", "share_b", "share_c")])
  X <- X[, colSums(X) > 0, drop = FALSE]
  m <- nrow(b)
  W <- outer(b$hours, b$hours, pmin) - min(b$hours)
  C <- diag(m) - 1 / m
  V <- g^2 * diag(b$noise, m) + s^2 * outer(b$stretch, b$stretch, "==") + q^2 * C %*% W %*% C
  U <- chol(V)
  ols <- qr(backsolve(U, X, transpose = TRUE))
  white <- backsolve(U, b$y, transpose = TRUE)
  beta <- qr.coef(ols, white)
  r <- qr.resid(ols, white)
  R <- qr.R(ols)
  list(beta = beta, covariance = chol2inv(R),
       reml = -0.5 * (2 * sum(log(diag(U))) + 2 * sum(log(abs(diag(R)))) + sum(r^2)))
}

lines <- c("case,scale,what,value,sd")
say <- function(case, i, what, value, sd)
  lines <<- c(lines, sprintf("%s,%d,%s,%.12g,%.12g", case, i, what, value, sd))
for (case in unique(blocks$case)) {
  for (i in seq_len(nrow(scales))) {
    f <- fit(blocks[blocks$case == case, ], scales$drift[i], scales$noise[i], scales$resetting[i])
    p <- length(f$beta)
    for (k in seq_len(p)) say(case, i - 1, letters[k], f$beta[k], sqrt(f$covariance[k, k]))
    contrast <- replace(numeric(p), c(1, p), c(-1, 1))
    say(case, i - 1, "change", sum(contrast * f$beta),
        sqrt(drop(contrast %*% f$covariance %*% contrast)))
    say(case, i - 1, "reml", f$reml, 0)
  }
}
writeLines(lines, file.path(out, "expected.csv"))
