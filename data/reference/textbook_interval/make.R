# How far the textbook interval of a mean, or of a difference of means, is off when samples follow each
# other closely: naive standard errors beside Newey-West ones (R package sandwich), on two open logs.
#   swing   the mean of a thermostat's temperature over its steady stretch
#   change  the mean of the last 200 s before window E was opened against the last 200 s before the burner
#           was turned off, in bedroom 1 and in the living room, runs 1, 1R3 and 3 of the house fire
# Newey-West: Bartlett weights; lag = window of one swing (85 samples), or 60 s (12 samples); no
# prewhitening, no small-sample factor; and the automatic lag of Newey and West (1994) beside it.
suppressMessages(library(sandwich))
out <- commandArgs(trailingOnly = TRUE)[1]

row_of <- function(log, quantity, fit, index, lag) {
  naive <- sqrt(vcov(fit)[index, index])
  hac <- sqrt(NeweyWest(fit, lag = lag, prewhite = FALSE)[index, index])
  automatic <- sqrt(NeweyWest(fit)[index, index])
  values <- c(coef(fit)[[index]], naive, hac, automatic, hac / naive)
  data.frame(log = log, quantity = quantity, samples = length(residuals(fit)), lag = lag,
             t(setNames(sprintf("%.9g", values),
                        c("value_k", "naive_error_k", "newey_west_error_k", "automatic_error_k", "times"))))
}

heater <- function(log) {
  lines <- readLines(sprintf("../../mycoreactor_onoff_heater/raw/%s.csv", log), encoding = "latin1")
  cells <- strsplit(lines[-1], ",", useBytes = TRUE)
  celsius <- suppressWarnings(as.numeric(vapply(cells, `[`, "", 3)))
  celsius <- celsius[!is.na(celsius) & celsius > -40]
  steady <- celsius[seq(length(celsius) %/% 2, length(celsius))]
  row_of(paste("log", log), "mean", lm(steady ~ 1), 1, 85)
}

house <- function(run, spot) {
  folder <- "../../fsri_residential_gasburner_2016/derived/Gas_Burner_"
  temps <- read.csv(sprintf("%s%s_temps_5s.csv", folder, run), check.names = FALSE)
  events <- read.csv(sprintf("%s%s_events_s.csv", folder, run))
  at <- function(name) events$time_s[events$event == name]
  before <- temps$time_s >= at("Window E Open") - 200 & temps$time_s < at("Window E Open")
  after <- temps$time_s >= at("Burner Off") - 200 & temps$time_s < at("Burner Off")
  y <- c(temps[[spot]][before], temps[[spot]][after])
  opened <- rep(0:1, c(sum(before), sum(after)))
  row_of(paste("run", run), paste("change of", spot), lm(y ~ opened), 2, 12)
}

rows <- list(heater("202602111639"), heater("202603031656"), heater("202603031806"))
for (run in c("1", "1R3", "3")) {
  for (spot in c("Bedroom 1 Temperature 1.2 m Below Ceiling", "Bedroom 1 Temperature 0.02 m Below Ceiling",
                 "Living Room Temperature 1.2 m Below Ceiling")) {
    rows <- c(rows, list(house(run, spot)))
  }
}
write.csv(do.call(rbind, rows), file.path(out, "expected.csv"), row.names = FALSE, quote = FALSE)
