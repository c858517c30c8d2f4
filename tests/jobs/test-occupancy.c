#include "tpt-job-occupancy.h"

#include "jobs-fixture.h"
#include "tpt-occupancy-words-private.h"

/* What is said where there is no estimate, and why an estimate is weak; NULL is nothing. The
 * number needed follows from the table: 0.2 / 0.1 squared times 30 stations. */
static void
test_words (void)
{
  static const struct {
    const char *what;
    SciOccupancy fit;
    const char *refused;
  } refusals[] = {
    { "no station", { .state = SCI_OCCUPANCY_UNSEEN }, "No station worked for half an occasion of 7 days" },
    { "nothing seen", { .state = SCI_OCCUPANCY_UNSEEN, .sites = 30 }, "at 2 stations or more" },
    { "too few", { .sites = 4, .sites_detected = 3 }, "4 stations are too few" },
    { "one alone", { .sites = 1, .sites_detected = 1 }, "1 station is too few" },
    { "seen at one", { .sites = 5, .sites_detected = 1 }, "one station only" },
    { "once each", { .state = SCI_OCCUPANCY_ONCE, .sites = 5, .sites_detected = 2 }, "second occasion" },
    { "enough", { .sites = 5, .sites_detected = 2 }, NULL },
  };
  static const struct {
    const char *what;
    SciOccupancyState state;
    TptOccupancy occupancy;
    const char *doubt, *number;
  } doubts[] = {
    { "good", SCI_OCCUPANCY_INSIDE,
      { .sites = 30, .visits = 300, .sites_detected = 12, .psi = 0.5, .psi_se = 0.09, .psi_low = 0.3, .psi_high = 0.7, .needed = 9 }, NULL },
    { "wide", SCI_OCCUPANCY_INSIDE,
      { .sites = 30, .visits = 300, .sites_detected = 12, .psi = 0.5, .psi_se = 0.2, .psi_low = 0.2, .psi_high = 0.9, .needed = 9 },
      "some 120 stations", "9 occasions" },
    { "hard to see", SCI_OCCUPANCY_INSIDE,
      { .sites = 30, .visits = 270, .sites_detected = 12, .psi = 0.5, .psi_se = 0.09, .psi_low = 0.3, .psi_high = 0.7, .needed = 14 },
      "takes 14 occasions", "worked 9 on average" },
    { "psi at one", SCI_OCCUPANCY_PSI_ONE, { .sites = 8, .visits = 24, .sites_detected = 7, .psi = 1, .psi_se = NAN, .needed = 9 },
      "may be at every station", "worked 3 on average" },
    { "seen everywhere", SCI_OCCUPANCY_PSI_ONE, { .sites = 8, .visits = 24, .sites_detected = 8, .psi = 1, .psi_se = NAN, .needed = 9 },
      "at every station, so", "no standard error" },
    { "seen always", SCI_OCCUPANCY_P_ONE, { .sites = 8, .visits = 24, .sites_detected = 4, .psi = 0.5, .psi_se = NAN, .needed = 1 },
      "shorter occasions", "no standard error" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autofree char *said = tpt_occupancy_refuse (&refusals[i].fit, 7);

      g_test_message ("%s: %s", refusals[i].what, said);
      g_assert_cmpint (said == NULL, ==, refusals[i].refused == NULL);
      g_assert_true (said == NULL || strstr (said, refusals[i].refused) != NULL);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (doubts); i++)
    {
      g_autofree char *said = tpt_occupancy_doubt (&doubts[i].occupancy, doubts[i].state);

      g_test_message ("%s: %s", doubts[i].what, said);
      g_assert_cmpint (said == NULL, ==, doubts[i].doubt == NULL);
      g_assert_true (said == NULL || (strstr (said, doubts[i].doubt) != NULL && strstr (said, doubts[i].number) != NULL));
    }
}

/* One species, by one name or by two; anything else makes no sense. A project without a station
 * gives an answer without a number. */
static void
test_species (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *names[3];
    int code; /* of the error, -1 for none */
  } cases[] = {
    { { NULL }, TPT_ERROR_USAGE },
    { { "Rusa unicolor", NULL }, -1 },
    { { "Rusa unicolor", "sambar", NULL }, -1 },
    { { "Rusa unicolor", "Sus barbatus", NULL }, TPT_ERROR_USAGE },
    { { "Nobody", NULL }, TPT_ERROR_DATA },
  };

  jobs_import (f, "scientific_name,common_en\nRusa unicolor,Sambar\nSus barbatus,Bearded pig\n");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobOccupancy) job = NULL;
      g_autoptr (GError) error = NULL;

      filter->species = cases[i].names[0] != NULL ? g_strdupv ((char **) cases[i].names) : NULL;
      job = tpt_job_occupancy_new (filter, 7);
      g_assert_cmpint (tpt_project_run (f->project, TPT_JOB (job), NULL, &error), ==, cases[i].code < 0);
      if (cases[i].code >= 0)
        {
          g_assert_error (error, TPT_ERROR, cases[i].code);
          continue;
        }
      g_assert_cmpuint (tpt_job_occupancy_get (job)->sites, ==, 0);
      g_assert_true (isnan (tpt_job_occupancy_get (job)->psi));
      g_assert_nonnull (tpt_job_occupancy_get (job)->why_not);
      g_assert_nonnull (tpt_job_occupancy_get_sentence (job));
      g_assert_cmpuint (tpt_job_occupancy_get_histories (job)->len, ==, 0);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/jobs/occupancy/words", test_words);
  g_test_add ("/jobs/occupancy/species", JobsFixture, NULL, jobs_set_up, test_species, jobs_tear_down);
  return g_test_run ();
}
