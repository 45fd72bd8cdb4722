# Mean, standard deviation, autocorrelations (lags 1 to 8) and first-order Yule-Walker fits of NIST's
# univariate sets by R's stats::acf and stats::ar. Lag 1 is also certified by NIST.
out <- commandArgs(trailingOnly = TRUE)[1]
sets <- c("Lew", "Lottery", "Mavro", "Michelso")
rows <- lapply(sets, function(set) {
  lines <- readLines(sprintf("../../nist_strd/mathnet/%s.dat", set))
  certified <- as.numeric(sub(".*r\\(1\\):", "", grep("r\\(1\\):", lines, value = TRUE)))
  y <- scan(text = lines[(grep("^Data: +Y", lines) + 2):length(lines)], quiet = TRUE)
  r <- acf(y, lag.max = 8, plot = FALSE)$acf[-1]
  stopifnot(abs(r[1] - certified) < 1e-9)
  fit <- ar(y, order.max = 1, aic = FALSE, method = "yule-walker")
  data.frame(set = set, n = length(y), mean = mean(y), sd = sd(y), t(setNames(r, paste0("r", 1:8))),
             ar1 = as.numeric(fit$ar), innovation_variance = fit$var.pred)
})
table <- do.call(rbind, rows)
numbers <- sapply(table, is.numeric)
table[numbers] <- lapply(table[numbers], function(v) sprintf("%.12g", v))
write.csv(table, file.path(out, "expected.csv"), row.names = FALSE, quote = FALSE)
