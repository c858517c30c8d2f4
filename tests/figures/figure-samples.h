/* One figure of each kind with invented data, for tests of what all kinds share. */
#pragma once

#include "tpt-accumulation.h"
#include "tpt-chart-map.h"
#include "tpt-due.h"
#include "tpt-hours.h"
#include "tpt-lives.h"
#include "tpt-matrix.h"
#include "tpt-months.h"
#include "tpt-phases.h"
#include "tpt-strip.h"
#include "tpt-timeline.h"

/* The zone of the samples: +08:00, no daylight saving. */
static inline TptZone *
sample_zone (void)
{
  g_autoptr (GError) error = NULL;
  TptZone *zone = tpt_zone_new ("Asia/Kuching", &error);

  g_assert_no_error (error);
  return zone;
}

static inline TptInstant
sample_instant (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptZone) zone = sample_zone ();
  TptInstant instant = tpt_instant_parse (text, zone, &error);

  g_assert_no_error (error);
  return instant;
}

static inline void
sample_caption (TptFigure *figure,
                TptZone *zone)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;

  caption.title = "Sun bear & others, \"all\" stations <2>";
  caption.summary = "3 detections in 80 trap nights: 3.75 per 100.";
  caption.n = 3;
  caption.n_of = "detections";
  caption.trap_nights = 80;
  caption.period = (TptRange) { sample_instant ("2026-03-01"), sample_instant ("2026-05-01") };
  caption.zone = zone;
  caption.method = "Invented for a test.";
  caption.units = "detections";
  tpt_figure_set_caption (figure, &caption);
}

static inline TptFigure *
sample_strip (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_strip_new ((TptRange) { sample_instant ("2026-03-01"), sample_instant ("2026-05-01") }, zone);
  int otter = tpt_strip_add_row (figure, "Otter bank", "st-1", NAN);
  int ridge = tpt_strip_add_row (figure, "Ridge, \"upper\"", NULL, 30.5);

  tpt_strip_add_effort (figure, otter, (TptRange) { sample_instant ("2026-03-02"), sample_instant ("2026-03-22T12:00") });
  tpt_strip_add_effort (figure, otter, (TptRange) { sample_instant ("2026-04-20"), TPT_NO_INSTANT });
  tpt_strip_add_effort (figure, ridge, (TptRange) { sample_instant ("2026-02-01"), sample_instant ("2026-03-31") });
  tpt_strip_add_gap (figure, otter, (TptRange) { sample_instant ("2026-03-22T12:00"), sample_instant ("2026-04-20") }, "found dead");
  tpt_strip_add_gap (figure, ridge, (TptRange) { sample_instant ("2026-02-01"), sample_instant ("2026-03-01") }, "before the axis");
  tpt_strip_add_detection (figure, otter, sample_instant ("2026-03-14T21:04"), "sun bear", 2);
  tpt_strip_add_detection (figure, otter, sample_instant ("2026-04-25T05:30:15"), "banded civet", 0);
  tpt_strip_add_detection (figure, otter, sample_instant ("2026-05-01"), "too late", 1);
  sample_caption (figure, zone);
  return figure;
}

static inline TptFigure *
sample_map (int decimals)
{
  g_autoptr (TptZone) zone = sample_zone ();
  const TptMapStation stations[] = {
    { "Otter bank", "st-1", { 2.4118, 113.0274 }, 14, 200 },
    { "Ridge saddle", "st-2", { 2.4337, 113.0512 }, 0, 100 },
    { "Salt lick", "st-3", { 2.4152, 113.0266 }, 3, 50 },
    { "Fig bend", "st-4", { 2.4281, 113.0401 }, 0, 0 },
  };
  const TptPlace river[] = { { 2.40, 113.0 }, { 2.42, 113.03 }, { 2.425, 113.08 } };
  TptFigure *figure = tpt_chart_map_new (TPT_MAP_COUNT, decimals);

  for (guint i = 0; i < G_N_ELEMENTS (stations); i++)
    tpt_chart_map_add_station (figure, &stations[i]);
  tpt_chart_map_add_track (figure, TPT_TRACK_RIVER, "Kelindan river", river, G_N_ELEMENTS (river));
  sample_caption (figure, zone);
  return figure;
}

static inline TptFigure *
sample_timeline (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_timeline_new ((TptRange) { sample_instant ("2026-03-01"), sample_instant ("2026-05-01") }, zone);
  gint64 day = tpt_zone_local_day (zone, sample_instant ("2026-03-10"));
  int battery = tpt_timeline_add_series (figure, "Camera battery");

  tpt_timeline_add_day (figure, day, 120);
  tpt_timeline_add_day (figure, day + 1, 31);
  tpt_timeline_add_day (figure, day - 60, 5);
  tpt_timeline_add_visit (figure, sample_instant ("2026-03-12T10:00"), "cells swapped");
  tpt_timeline_add_gap (figure, (TptRange) { sample_instant ("2026-03-20"), sample_instant ("2026-03-23") }, "card full");
  tpt_timeline_add_reading (figure, battery, sample_instant ("2026-03-12T10:00"), 100, TRUE);
  tpt_timeline_add_reading (figure, battery, sample_instant ("2026-03-12T09:59"), 12.5, FALSE);
  tpt_timeline_set_forecast (figure, battery, sample_instant ("2026-04-01"), 55, sample_instant ("2026-04-10"),
                             sample_instant ("2026-04-20"), TPT_NO_INSTANT);
  sample_caption (figure, zone);
  return figure;
}

static inline TptFigure *
sample_due (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_due_new ((TptRange) { sample_instant ("2026-03-01"), sample_instant ("2026-05-01") }, zone,
                                   sample_instant ("2026-03-28"));
  const TptDueRow rows[] = {
    { "Otter bank", "st-1", "card", { 0.5, 0.125, TPT_STATE_NOW },
      { sample_instant ("2026-03-20"), sample_instant ("2026-03-25"), sample_instant ("2026-04-02"), TPT_STATE_NOW }, 6.4 },
    { "Ridge saddle", NULL, NULL, { NAN, 1, TPT_STATE_UNKNOWN },
      { TPT_NO_INSTANT, TPT_NO_INSTANT, TPT_NO_INSTANT, TPT_STATE_UNKNOWN }, NAN },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    tpt_due_add_row (figure, &rows[i]);
  sample_caption (figure, zone);
  return figure;
}

static inline TptFigure *
sample_lives (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_lives_new ();
  const TptLivesStep steps[] = { { 100, 4, 1, 0.75, 0.43, 1 }, { 250.5, 2, 2, 0, NAN, NAN } };
  const TptLivesEnd boxed[] = { { 100, TRUE }, { 200, FALSE }, { 250.5, TRUE }, { 250.5, TRUE } };
  const TptLivesEnd other[] = { { 40, FALSE }, { 400, FALSE } };
  const TptLivesGroup groups[] = {
    { "Camera, \"boxed\" & dry", "camera", NULL, steps, G_N_ELEMENTS (steps), boxed, G_N_ELEMENTS (boxed) },
    { "Flash", NULL, "too few for a curve", NULL, 0, other, G_N_ELEMENTS (other) },
  };

  for (guint i = 0; i < G_N_ELEMENTS (groups); i++)
    tpt_lives_add_group (figure, &groups[i]);
  sample_caption (figure, zone);
  return figure;
}

/* December is idle, January little worked, February without a detection. */
static inline TptFigure *
sample_months (guint n_series)
{
  g_autoptr (TptZone) zone = sample_zone ();
  static const char *const starts[] = { "2025-11-01", "2025-12-01", "2026-01-01", "2026-02-01", "2026-03-01" };
  static const TptMonth months[] = {
    { .nights = 200, .detections = 4, .rate = 2, .low = 0.54, .high = 5.12, .fitted = 1.5 },
    { .nights = 0, .detections = 0, .rate = NAN, .low = NAN, .high = NAN, .fitted = NAN },
    { .nights = 5, .detections = 1, .rate = 20, .low = 0.51, .high = 111.4, .fitted = 1 },
    { .nights = 160.25, .detections = 0, .rate = 0, .low = 0, .high = 2.298, .fitted = 0.75 },
  };
  TptFigure *figure = tpt_months_new ((TptRange) { sample_instant (starts[0]), sample_instant (starts[4]) }, zone);

  for (guint s = 0; s < n_series; s++)
    {
      tpt_months_add_series (figure, n_series == 1 ? NULL : s == 0 ? "Sun bear" : "Civet, \"banded\" & <small>", s == 0 ? "bear" : NULL);
      for (guint i = 0; i < G_N_ELEMENTS (months); i++)
        {
          TptMonth month = months[i];

          month.when = month.means = (TptRange) { sample_instant (starts[i]), sample_instant (starts[i + 1]) };
          tpt_months_add_month (figure, (int) s, &month);
        }
    }
  sample_caption (figure, zone);
  return figure;
}

/* Fig bend did not work, and Hide saw a bear all the same. */
static inline TptFigure *
sample_matrix (TptMatrixMeasure measure)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_matrix_new (measure);

  tpt_matrix_add_station (figure, "Salt lick", "st-1", 703);
  tpt_matrix_add_station (figure, "Fig bend", "st-2", 0);
  tpt_matrix_add_station (figure, "Ridge, \"upper\"", NULL, 50);
  tpt_matrix_add_station (figure, "Hide", "st-4", 0);
  tpt_matrix_add_species (figure, "Sun bear", "bear");
  tpt_matrix_add_species (figure, "Civet & <small>", NULL);
  tpt_matrix_set (figure, 0, 0, 11);
  tpt_matrix_set (figure, 0, 3, 2);
  tpt_matrix_set (figure, 1, 2, 1);
  sample_caption (figure, zone);
  return figure;
}

static inline TptFigure *
sample_accumulation (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_accumulation_new ();

  tpt_accumulation_add (figure, 1, 4.5, 2.5);
  tpt_accumulation_add (figure, 2, 7.25, 1);
  tpt_accumulation_add (figure, 3, 8, 0);
  tpt_accumulation_add_level (figure, "Chao2, \"corrected\"", 9.5, 8.25, 21);
  tpt_accumulation_add_level (figure, "Jackknife & <more>", 10, NAN, NAN);
  sample_caption (figure, zone);
  return figure;
}

/* One species with a curve, another with too few records for one; a season of sunrises. */
static inline TptFigure *
sample_hours (TptHoursClock clock)
{
  g_autoptr (TptZone) zone = sample_zone ();
  static const double records[] = { 0, 6.25, 6.75, 18.5, 23.99 };
  static const double density[] = { 0.01, 0.03, 0.12, 0.03, 0.01, 0.03, 0.06, 0.13 / 3 };
  static const double low[] = { 0.005, 0.02, 0.1, 0.02, 0.005, 0.02, 0.04, 0.03 };
  static const double high[] = { 0.02, 0.05, 0.16, 0.05, 0.02, 0.05, 0.09, 0.06 };
  const TptHoursSeries series[] = {
    { "Sun bear", "bear", records, G_N_ELEMENTS (records), density, low, high, G_N_ELEMENTS (density), NULL },
    { "Civet & <small>", NULL, records, 2, NULL, NULL, NULL, 0, "2 detections are too few for a curve" },
  };
  TptFigure *figure = tpt_hours_new (clock);

  for (guint i = 0; i < G_N_ELEMENTS (series); i++)
    tpt_hours_add_series (figure, &series[i]);
  tpt_hours_set_sun (figure, clock == TPT_HOURS_SUN ? &(TptHoursSun) { 6, 6, 18, 18, 0.4 }
                                                    : &(TptHoursSun) { 5.5, 6.5, 17.75, 19, 0.4 });
  sample_caption (figure, zone);
  return figure;
}

/* At the full moon nothing was seen, and in the last quarter nothing worked. */
static inline TptFigure *
sample_phases (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  const TptPhase phases[] = {
    { "new", 0, TRUE, 100, 2, 2, 0.242, 7.22 },
    { "first \"quarter\"", 0.5, TRUE, 90.5, 3, 3.315, 0.684, 9.69 },
    { "full", 1, FALSE, 120, 0, 0, 0, 3.07 },
    { "last & least", 0.5, FALSE, 0, 0, NAN, NAN, NAN },
  };
  TptFigure *figure = tpt_phases_new ();

  for (guint i = 0; i < G_N_ELEMENTS (phases); i++)
    tpt_phases_add (figure, &phases[i]);
  sample_caption (figure, zone);
  return figure;
}

/* Two species, the effort of the second its own. */
static inline TptFigure *
sample_pair (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptRange range = { sample_instant ("2026-03-01"), sample_instant ("2026-05-01") };
  TptRange before = { sample_instant ("2025-03-10"), sample_instant ("2025-04-10") };
  TptInstant at = sample_instant ("2026-03-14T21:04"), then = sample_instant ("2025-04-02T06:00");
  TptFigure *figure = tpt_strip_new_pair (range, zone, "Sun bear", "Civet & <small>, the year before");
  int row = tpt_strip_add_row (figure, "Otter bank", "st-1", NAN);

  tpt_strip_add_effort (figure, row, range);
  tpt_strip_add_second_effort (figure, row, (TptRange) { before.from + 365 * TPT_DAY, before.to + 365 * TPT_DAY }, before);
  tpt_strip_add_sighting (figure, row, &(TptStripSighting) { at, { at, at + 1 }, "sun bear", "bear", 2, FALSE });
  tpt_strip_add_sighting (figure, row,
                          &(TptStripSighting) { then + 365 * TPT_DAY, { then, then + 1 }, "civet", NULL, 0, TRUE });
  sample_caption (figure, zone);
  return figure;
}

/* Fills @figures with one of each kind. */
#define N_SAMPLES 13

static inline void
sample_all (TptFigure *figures[N_SAMPLES])
{
  figures[0] = sample_strip ();
  figures[1] = sample_map (TPT_MAP_EXACT);
  figures[2] = sample_map (2);
  figures[3] = sample_timeline ();
  figures[4] = sample_due ();
  figures[5] = sample_lives ();
  figures[6] = sample_months (2);
  figures[7] = sample_matrix (TPT_MATRIX_RATE);
  figures[8] = sample_accumulation ();
  figures[9] = sample_hours (TPT_HOURS_CLOCK);
  figures[10] = sample_hours (TPT_HOURS_SUN);
  figures[11] = sample_phases ();
  figures[12] = sample_pair ();
}
