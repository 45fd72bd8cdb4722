# Kriging of a lay at fixed scales with gstat: ordinary and universal of one setting, ordinary cokriging of two.
# The anisotropy is put into the coordinates; gstat's "Mat" with kappa 5/2 has range = length / sqrt(5).
suppressPackageStartupMessages({library(sp); library(gstat)})
out <- commandArgs(trailingOnly = TRUE)[1]
spots <- read.csv("spots.csv"); places <- read.csv("places.csv")
len <- c(0.42, 0.31, 0.25); size <- 4.5; own <- 0.3
scaled <- function(d) data.frame(x = d$x_m / len[1], y = d$y_m / len[2], z = d$z_m / len[3])
at <- function(d, extra) { d2 <- cbind(scaled(d), extra); coordinates(d2) <- ~ x + y + z; d2 }
data <- at(spots, spots[, c("run_a_k", "run_b_k", "variance_a_k2", "variance_b_k2")])
new <- at(places, data.frame(k = seq_len(nrow(places))))
matern <- function(psill) vgm(psill, "Mat", 1 / sqrt(5), kappa = 2.5)
one <- function(formula) {
  g <- gstat(NULL, "a", formula, data, model = matern(size^2), weights = 1 / spots$variance_a_k2)
  predict(g, new, debug.level = 0)
}
rows <- function(case, mean, variance) data.frame(case, place = seq_along(mean), mean, variance)
ordinary <- one(run_a_k ~ 1)
universal <- one(run_a_k ~ x + y + z)
g <- gstat(NULL, "a", run_a_k ~ 1, data, model = matern(size^2), weights = 1 / spots$variance_a_k2)
g <- gstat(g, "b", run_b_k ~ 1, data, model = matern(size^2), weights = 1 / spots$variance_b_k2)
g <- gstat(g, c("a", "b"), model = matern((1 - own) * size^2))
both <- predict(g, new, debug.level = 0)
# The difference of two settings, b less a, from gstat's cross covariance.
difference <- both$a.var + both$b.var - 2 * both$cov.a.b
all <- rbind(rows("ordinary", ordinary$a.pred, ordinary$a.var),
             rows("universal", universal$a.pred, universal$a.var),
             rows("setting a", both$a.pred, both$a.var),
             rows("setting b", both$b.pred, both$b.var),
             rows("b less a", both$b.pred - both$a.pred, difference))
write.csv(format(all, digits = 12, trim = TRUE), file.path(out, "expected.csv"), row.names = FALSE, quote = FALSE)
