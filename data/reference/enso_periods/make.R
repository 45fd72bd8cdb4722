# The ENSO model of NIST StRD fitted with R's nls from the second of NIST's starts, beside NIST's
# certified values.
#   y = b1 + b2 cos(2 pi x / 12) + b3 sin(2 pi x / 12) + b5 cos(2 pi x / b4) + b6 sin(2 pi x / b4)
#          + b8 cos(2 pi x / b7) + b9 sin(2 pi x / b7) + e;   x in months
out <- commandArgs(trailingOnly = TRUE)[1]
lines <- readLines("../../nist_strd/mathnet/ENSO.dat")
rows <- read.table(text = lines[grep("^Data: +y +x", lines) + 1:168], col.names = c("y", "x"))
given <- read.table(text = sub("=", "", grep("^ +b[1-9] =", lines, value = TRUE)),
                    col.names = c("name", "start1", "start2", "certified", "error"))
fit <- nls(y ~ b1 + b2 * cos(2 * pi * x / 12) + b3 * sin(2 * pi * x / 12) +
             b5 * cos(2 * pi * x / b4) + b6 * sin(2 * pi * x / b4) +
             b8 * cos(2 * pi * x / b7) + b9 * sin(2 * pi * x / b7),
           rows, start = setNames(as.list(given$start2), given$name),
           control = nls.control(tol = 1e-7, maxiter = 200, nDcentral = TRUE))
found <- summary(fit)$coefficients
stopifnot(max(abs(found[given$name, 1] / given$certified - 1)) < 5e-6)
write.csv(data.frame(parameter = given$name, estimate = signif(found[given$name, 1], 10),
                     error = signif(found[given$name, 2], 10), certified = given$certified,
                     certified_error = given$error),
          file.path(out, "expected.csv"), row.names = FALSE, quote = FALSE)
