# Works out anew, with general-purpose packages, what the findings say.
#
#   Rscript reference.R FOLDER
#
# Reads tables that compare.py wrote into FOLDER and prints lines of "what TAB key TAB value". Packages: circular (kernel,
# bandwidth, Watson's test), vegan (richness), and R's own poisson.test, glm and optim.

suppressPackageStartupMessages({
  library(circular)
  library(vegan)
})

folder <- commandArgs(trailingOnly = TRUE)[1]
table_of <- function(name) read.csv(file.path(folder, name), check.names = FALSE, stringsAsFactors = FALSE)
say <- function(what, key, value) cat(what, key, sprintf("%.12g", value), sep = "\t", fill = FALSE, "\n")

angles <- function(hours) circular(hours * 2 * pi / 24, modulo = "2pi")
bandwidth <- function(x) bw.nrd.circular(x, kappa.est = "trigmoments", P = 3)
density_at <- function(x, at, bw) density.circular(x, z = circular(at), bw = bw, kernel = "vonmises")$y

# Rates: exact limits.
for (i in seq_len(nrow(rates <- table_of("rates.csv")))) {
  limits <- poisson.test(rates$n[i], rates$nights[i])$conf.int * 100
  say("rate", paste(rates$species[i], c("per_100", "low", "high")[1]), 100 * rates$n[i] / rates$nights[i])
  say("rate", paste(rates$species[i], "low"), limits[1])
  say("rate", paste(rates$species[i], "high"), limits[2])
}

# Activity: one species a time, then pairs.
hours <- table_of("hours.csv")
for (species in unique(hours$species)) {
  x <- angles(hours$hour[hours$species == species])
  n <- length(x)
  r <- rho.circular(x)
  mean_hour <- as.numeric(mean.circular(x)) %% (2 * pi) * 24 / (2 * pi)
  say("activity", paste(species, "r"), r)
  say("activity", paste(species, "mean_hour"), mean_hour)
  # Zar's approximation (Biostatistical Analysis, from memory): no package has it.
  say("activity", paste(species, "rayleigh_p"), exp(sqrt(1 + 4 * n + 4 * (n^2 - (n * r)^2)) - (1 + 2 * n)))
  bw <- tryCatch(bandwidth(x), error = function(e) NA)
  if (is.na(bw)) next
  say("activity", paste(species, "kappa"), bw)
  y <- density_at(x, 2 * pi * (0:23) / 24, bw) * 2 * pi / 24
  for (h in 0:23) say("activity", paste(species, "density", h), y[h + 1])
}
pairs <- table_of("pairs.csv")
for (i in seq_len(nrow(pairs))) {
  a <- angles(hours$hour[hours$species == pairs$a[i]])
  b <- angles(hours$hour[hours$species == pairs$b[i]])
  wa <- bandwidth(a)
  wb <- bandwidth(b)
  key <- paste(pairs$a[i], "+", pairs$b[i])
  if (min(length(a), length(b)) < 50) {
    grid <- 2 * pi * (0:4095) / 4096
    value <- sum(pmin(density_at(a, grid, wa), density_at(b, grid, wb))) * 2 * pi / 4096
  } else {
    at_a <- as.numeric(a)
    at_b <- as.numeric(b)
    value <- (mean(pmin(1, density_at(b, at_a, wb) / density_at(a, at_a, wa))) +
              mean(pmin(1, density_at(a, at_b, wa) / density_at(b, at_b, wb)))) / 2
  }
  say("overlap", paste(key, "value"), value)
  say("overlap", paste(key, "watson_u2"), watson.two.test(a, b)$statistic)
}

# Occupancy: the likelihood maximised by optim, the profile by uniroot.
logit <- function(p) log(p / (1 - p))
expit <- function(x) 1 / (1 + exp(-x))
history_of <- function(name) as.matrix(read.csv(file.path(folder, name), header = FALSE))
minus_log_likelihood <- function(psi, p, y) {
  seen <- rowSums(y == 1, na.rm = TRUE)
  visits <- rowSums(!is.na(y))
  -sum(ifelse(seen > 0, log(psi) + seen * log(p) + (visits - seen) * log(1 - p), log(1 - psi + psi * (1 - p)^visits))[visits > 0])
}
for (i in seq_len(nrow(histories <- table_of("histories.csv")))) {
  y <- history_of(histories$file[i])
  species <- histories$species[i]
  f <- function(v) minus_log_likelihood(expit(v[1]), expit(v[2]), y)
  fits <- lapply(list(c(0, -1), c(2, -2), c(-1, 0)), function(start) optim(start, f, method = "BFGS", control = list(reltol = 1e-14)))
  fit <- fits[[which.min(sapply(fits, function(one) one$value))]]
  psi <- expit(fit$par[1])
  p <- expit(fit$par[2])
  edge <- optimize(function(v) minus_log_likelihood(1, expit(v), y), c(-15, 15), tol = 1e-10) # where optim only comes near
  if (edge$objective < fit$value) {
    psi <- 1
    p <- expit(edge$minimum)
    fit$value <- edge$objective
  }
  say("occupancy", paste(species, "loglik"), -fit$value)
  say("occupancy", paste(species, "psi"), psi)
  say("occupancy", paste(species, "p"), p)
  if (psi > 0.999) next
  hessian <- optimHess(c(psi, p), function(v) minus_log_likelihood(v[1], v[2], y), control = list(ndeps = c(1e-4, 1e-4)))
  se <- sqrt(diag(solve(hessian)))
  say("occupancy", paste(species, "psi_se"), se[1])
  say("occupancy", paste(species, "p_se"), se[2])
  profile <- function(psi) optimize(function(v) minus_log_likelihood(psi, expit(v), y), c(-15, 15), tol = 1e-10)$objective - fit$value - qchisq(0.95, 1) / 2
  say("occupancy", paste(species, "psi_low"), uniroot(profile, c(1e-6, psi), tol = 1e-10)$root)
  say("occupancy", paste(species, "psi_high"), if (profile(1 - 1e-9) < 0) 1 else uniroot(profile, c(psi, 1 - 1e-9), tol = 1e-10)$root)
}

# Richness: stations are the sampling units.
incidence <- as.matrix(table_of("incidence.csv"))
pool <- specpool(incidence)
curve <- specaccum(incidence, "exact")
n <- nrow(incidence)
for (k in seq_len(n)) say("richness", paste("mean", k), curve$richness[k])
say("richness", "observed", pool$Species)
say("richness", "chao2", pool$chao)
say("richness", "chao2_se", pool$chao.se)
say("richness", "jack1", pool$jack1)
say("richness", "boot", pool$boot)
hill <- renyi(colSums(incidence), scales = c(0, 1, 2), hill = TRUE)
for (q in 1:3) say("richness", paste("hill", q - 1), hill[q])
# The standard deviation over all subsets, from the chances that two species are both missed: vegan's is an approximation.
missed <- crossprod(1 - incidence)
for (k in seq_len(n)) {
  absent <- choose(n - colSums(incidence), k) / choose(n, k)
  say("richness", paste("sd", k), sqrt(max(0, sum(choose(missed, k) / choose(n, k) - outer(absent, absent)))))
}

# Trend over the months, beside a yearly wave.
for (species in unique((months <- table_of("months.csv"))$species)) {
  one <- months[months$species == species & months$nights > 0, ]
  if (sum(one$n) == 0) next
  fit <- suppressWarnings(summary(glm(n ~ t + cos(2 * pi * t) + sin(2 * pi * t), family = quasipoisson, offset = log(nights), data = one,
                                      control = glm.control(epsilon = 1e-14, maxit = 100))))
  say("trend", paste(species, "per_year"), exp(fit$coefficients[2, 1]))
  say("trend", paste(species, "dispersion"), fit$dispersion)
}
