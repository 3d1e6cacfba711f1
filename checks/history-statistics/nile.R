# Break, Pettitt and trend figures of the Nile series for published.check.ts, from R's own copy of the series.
# Run: Rscript nile.R   (Debian: r-base-core, r-cran-strucchange)
suppressMessages(library(strucchange))
flow <- as.numeric(Nile)
n <- length(flow)
squares <- function(x) sum((x - mean(x))^2)
cat(R.version.string, "strucchange", as.character(packageVersion("strucchange")), "\n")
cat("squares about the mean", format(squares(flow), nsmall = 2), "\n")
cat("break after", breakpoints(Nile ~ 1, breaks = 1)$breakpoints, "\n")
cat("gain of the break", squares(flow) - squares(flow[1:28]) - squares(flow[29:n]), "\n")
ranked <- abs(2 * cumsum(rank(flow)) - (1:n) * (n + 1))
cat("Pettitt", max(ranked), "after", which.max(ranked), "p", 2 * exp(-6 * max(ranked)^2 / (n^3 + n^2)), "\n")
later <- function(i) flow[(i + 1):n] - flow[i]
score <- sum(sapply(1:(n - 1), function(i) sum(sign(later(i)))))
ties <- table(flow)
variance <- (n * (n - 1) * (2 * n + 5) - sum(ties * (ties - 1) * (2 * ties + 5))) / 18
cat("Mann-Kendall", score, (score + 1) / sqrt(variance), "\n")
cat("median slope", median(unlist(lapply(1:(n - 1), function(i) later(i) / (1:(n - i))))), "\n")
