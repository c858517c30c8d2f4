#include "config.h"

#include "tpt-job-visit.h"
#include "visit-fixture.h"

/* "K1 percent=30 action=swapped cause=moisture": one unit as a form would have it. */
static TptVisitLine *
make_line (JobsFixture *f, const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  g_autoptr (TptRecord) reading = ROW (TPT_TABLE_READINGS, "unit", words[0]);
  const char *cause = NULL;

  for (guint i = 1; words[i] != NULL; i++)
    {
      char *value = strchr (words[i], '=');
      g_autoptr (GError) error = NULL;

      *value++ = '\0';
      if (g_str_equal (words[i], "cause"))
        cause = value;
      else
        tpt_record_set_from_string (reading, words[i], value, NULL, &error);
      g_assert_no_error (error);
    }
  return tpt_visit_line_new (reading, cause);
}

static GPtrArray *
make_lines (JobsFixture *f, const char *text)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_visit_line_free);
  g_auto (GStrv) parts = g_strsplit (text, "; ", -1);

  for (guint i = 0; *text != '\0' && parts[i] != NULL; i++)
    g_ptr_array_add (lines, make_line (f, parts[i]));
  return lines;
}

/* What a record to be saved amounts to, in a few letters. */
static char *
tell_record (TptRecord *record, TptZone *zone)
{
  g_autofree char *to = NULL;

  switch ((int) tpt_record_get_table (record)->id)
    {
    case TPT_TABLE_VISITS:
      return g_strdup ("visit");
    case TPT_TABLE_READINGS:
      return g_strdup_printf ("read %s%s%s", tpt_record_get_text (record, "unit"), tpt_record_is_set (record, "replacement") ? ">" : "",
                              tpt_record_is_set (record, "replacement") ? tpt_record_get_text (record, "replacement") : "");
    case TPT_TABLE_FITTINGS:
      to = tpt_record_to_string (record, "to", zone);
      return g_strdup_printf ("%s %s to %.16s", tpt_record_get_id (record) != 0 ? "end" : "fit", tpt_record_get_text (record, "unit"),
                              to != NULL ? to : "open");
    case TPT_TABLE_STOCK:
      return g_strdup_printf ("%s=%d", tpt_record_get_code (record), (int) tpt_record_get_integer (record, "pieces", -1));
    case TPT_TABLE_UNIT_LOG:
      return g_strdup_printf ("log %s %s %s", tpt_record_get_text (record, "unit"), tpt_record_get_text (record, "what"),
                              tpt_record_get_text (record, "cause"));
    case TPT_TABLE_UNITS:
      return g_strdup_printf ("retire %s %s %s", tpt_record_get_code (record), tpt_record_get_text (record, "retired"),
                              tpt_record_get_text (record, "retire_cause"));
    case TPT_TABLE_DEPLOYMENTS:
      to = tpt_record_to_string (record, "end", zone);
      return g_strdup_printf ("rig to %.16s", to);
    default:
      return g_strdup ("?");
    }
}

static char *
tell_records (JobsFixture *f, TptVisitPlan *plan)
{
  GString *text = g_string_new (NULL);
  GPtrArray *records = tpt_visit_plan_get_records (plan);

  for (guint i = 0; i < records->len; i++)
    {
      g_autofree char *one = tell_record (records->pdata[i], tpt_project_get_zone (f->project));
      g_string_append_printf (text, "%s%s", i == 0 ? "" : ", ", one);
    }
  return g_string_free (text, FALSE);
}

static TptRecord *
make_visit (JobsFixture *f, const char *station, const char *when, const char *found)
{
  return ROW (TPT_TABLE_VISITS, "station", station, "at", when, "found", found);
}

static TptVisitPlan *
make_plan (JobsFixture *f, TptRecord *visit, GPtrArray *lines, gboolean bring_in)
{
  g_autoptr (TptJobVisitFacts) job =
    tpt_job_visit_facts_new (tpt_record_get_text (visit, "station"), tpt_record_get_instant (visit, "at"));
  g_autoptr (TptVisitFacts) facts = NULL;

  jobs_run (f, job);
  facts = tpt_job_visit_facts_steal (job);
  return tpt_visit_plan_new (facts, visit, lines, bring_in);
}

/* What is told about a rig, and the records it comes to. */
static void
test_changes (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *at;
    const char *found;
    const char *lines;
    gboolean bring_in;
    const char *records;
    const char *says;  /* a piece of the line for people */
    const char *warns; /* a piece of the first warning; NULL: none */
  } cases[] = {
    /* nothing done */
    { "2026-06-01T09:00", "working", "", FALSE, "visit", "without readings.", NULL },
    { "2026-06-01T09:00", "working", "K1 state=working percent=60; C1 action=none", FALSE, "visit, read K1, read C1", "2 readings.", NULL },
    { "2026-06-01T09:00", "working", "K1 action=charged", FALSE, "visit, read K1", "1 reading.", NULL },
    /* another unit in its place */
    { "2026-06-01T09:00", "working", "C1 action=swapped replacement=C2", FALSE,
      "visit, read C1>C2, end C1 to 2026-06-01T09:00, fit C2 to open", "C1 out and C2 in", NULL },
    { "2026-06-01T09:00", "working", "P1 percent=8 action=swapped replacement=P2", FALSE,
      "visit, read P1>P2, end P1 to 2026-06-01T09:00, fit P2 to open", "P1 out and P2 in", NULL },
    /* the same one back in, emptied: nothing moves and nothing leaves the shelf */
    { "2026-06-01T09:00", "working", "C1 action=swapped replacement=C1", FALSE, "visit, read C1", "1 reading.", NULL },
    { "2026-06-01T09:00", "working", "K1 action=swapped replacement=K1", FALSE, "visit, read K1", "1 reading.", NULL },
    /* fresh cells: in series times in parallel, 2 x 3 */
    { "2026-06-01T09:00", "working", "K1 action=swapped", FALSE, "visit, read K1, S1=2", "6 AA NiMH from the shelf into K1 (2 left)", NULL },
    /* more than the shelf has: to nought, and said; strings in parallel not on record count as one */
    { "2026-06-01T09:00", "working", "P1 action=swapped", FALSE, "visit, read P1, S2=0", "(0 left)", "only 3 of the 4 D alkaline" },
    /* which cells is not on record: the counts stay */
    { "2026-06-01T09:00", "working", "F1 action=swapped", FALSE, "visit, read F1", "fresh cells in F1", "F1" },
    { "2026-06-01T09:00", "working", "C1 action=swapped", FALSE, "visit, read C1, S3=1", "1 card from the shelf in place of C1 (1 left)", NULL },
    { "2026-06-01T09:00", "working", "H1 action=swapped", FALSE, "visit, read H1", "1 reading.", NULL },
    /* taken out */
    { "2026-06-01T09:00", "working", "F1 action=removed", FALSE, "visit, read F1, end F1 to 2026-06-01T09:00", "F1 out", NULL },
    /* harm */
    { "2026-06-01T09:00", "dead", "K1 state=dead cause=moisture", FALSE, "visit, read K1, log K1 failure moisture",
      "K1 failed (moisture)", NULL },
    { "2026-06-01T09:00", "disturbed", "H1 cause=animal", FALSE, "visit, log H1 damage animal", "H1 damaged (animal)", NULL },
    { "2026-06-01T09:00", "disturbed", "K1 state=working cause=fall", FALSE, "visit, read K1, log K1 damage fall", "K1 damaged", NULL },
    { "2026-06-01T09:00", "gone", "K1 cause=theft", FALSE, "visit, log K1 loss theft", "K1 lost (theft)", NULL },
    { "2026-06-01T09:00", "gone", "K1 action=removed cause=theft", FALSE,
      "visit, read K1, end K1 to 2026-06-01T09:00, retire K1 2026-06-01 theft, log K1 loss theft", "K1 lost (theft)", NULL },
    /* of a rig found gone, what is still seen is not lost */
    { "2026-06-01T09:00", "gone", "H1 state=working action=removed cause=theft", FALSE,
      "visit, read H1, end H1 to 2026-06-01T09:00, log H1 damage theft", "H1 out", NULL },
    /* bringing in ends everything, once */
    { "2026-06-01T09:00", "working", "K1 percent=20; C1 action=removed", TRUE,
      "visit, read K1, read C1, end K1 to 2026-06-01T09:00, end F1 to 2026-06-01T09:00, end P1 to 2026-06-01T09:00, "
      "end C1 to 2026-06-01T09:00, end H1 to 2026-06-01T09:00, rig to 2026-06-01T09:00", "5 units come in", NULL },
    /* told late: the rig of that time; what goes in leaves when the old one did */
    { "2026-03-15T09:00", "working", "C2 action=swapped replacement=C5", FALSE,
      "visit, read C2>C5, end C2 to 2026-03-15T09:00, fit C5 to 2026-04-01T08:00", "C2 out and C5 in", NULL },
    /* nobody's rig, nothing read: a visit all the same */
    { "2026-04-15T09:00", "gone", "", FALSE, "visit", "without readings.", "one was set out on 1 May 2026" },
    { "2026-06-12T17:00", "working", "", FALSE, "visit", "without readings.", NULL }, /* now is not the future */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) visit = make_visit (f, "OAK", cases[i].at, cases[i].found);
      g_autoptr (GPtrArray) lines = make_lines (f, cases[i].lines);
      g_autoptr (TptVisitPlan) plan = make_plan (f, visit, lines, cases[i].bring_in);
      g_autofree char *records = tell_records (f, plan), *says = tpt_visit_plan_describe (plan);
      GPtrArray *warnings = tpt_visit_plan_get_warnings (plan);

      g_test_message ("%s: %s: %s", cases[i].at, cases[i].lines, says);
      g_assert_cmpuint (tpt_visit_plan_get_faults (plan)->len, ==, 0);
      g_assert_cmpstr (records, ==, cases[i].records);
      g_assert_nonnull (strstr (says, cases[i].says));
      g_assert_cmpuint (warnings->len, ==, cases[i].warns != NULL ? 1 : 0);
      if (cases[i].warns != NULL)
        g_assert_nonnull (strstr (warnings->pdata[0], cases[i].warns));
    }
}

/* Several units from one count. */
static void
test_shared_count (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptRecord) visit = make_visit (f, "OAK", "2026-06-01T09:00", "working");
  g_autoptr (GPtrArray) lines = make_lines (f, "K1 action=swapped; F1 action=swapped");
  g_autoptr (TptVisitPlan) plan = NULL;
  g_autofree char *records = NULL;

  jobs_import (f, "unit,kind,chemistry,cell_size,cells_series\nF1,flash,nimh,AA,4\n");
  PUT (TPT_TABLE_STOCK, "item", "S0", "what", "cells", "cell_size", "AA", "chemistry", "nimh", "pieces", "1");
  plan = make_plan (f, visit, lines, FALSE);
  records = tell_records (f, plan);
  g_assert_cmpstr (records, ==, "visit, read K1, read F1, S0=0, S1=0"); /* 6 and 4 of 1 and 8 */
  g_assert_cmpuint (tpt_visit_plan_get_warnings (plan)->len, ==, 1);
  g_assert_nonnull (strstr (tpt_visit_plan_get_warnings (plan)->pdata[0], "only 3 of the 4 AA NiMH that went into F1"));
}

/* A block is one piece, whatever cells are in it. */
static void
test_block (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptRecord) visit = make_visit (f, "OAK", "2026-06-01T09:00", "working");
  g_autoptr (GPtrArray) lines = make_lines (f, "P1 action=swapped");
  g_autoptr (TptVisitPlan) plan = NULL;
  g_autofree char *records = NULL, *says = NULL;

  jobs_import (f, "unit,kind,chemistry,cell_size,cells_series\nP1,pack,lead-acid,block,6\n");
  PUT (TPT_TABLE_STOCK, "item", "S9", "what", "cells", "cell_size", "block", "chemistry", "lead-acid", "pieces", "2");
  plan = make_plan (f, visit, lines, FALSE);
  records = tell_records (f, plan);
  says = tpt_visit_plan_describe (plan);
  g_assert_cmpstr (records, ==, "visit, read P1, S9=1");
  g_assert_nonnull (strstr (says, "1 sealed lead-acid block from the shelf into P1 (1 left)"));
}

/* What cannot be: which row, which column, and why. */
static void
test_faults (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *station, *at;
    const char *lines;
    gboolean bring_in;
    int line;
    const char *column;
    const char *reason; /* a piece of it */
  } cases[] = {
    { "OAK", "2026-06-12T17:01", "", FALSE, -1, "at", "it is 12 June 2026 17:00 now" },
    { "OAK", "2026-05-20T09:00", "", FALSE, -1, "at", "already" },
    { "OAK", "2026-04-15T09:00", "K1 percent=50", FALSE, -1, "at", "one was set out on 1 May 2026 08:00" },
    { "OAK", "2026-04-01T08:00", "K1 percent=50", FALSE, -1, "at", "no rig stood" }, /* half-open */
    { "FIR", "2026-06-01T09:00", "K1 percent=50", FALSE, -1, "at", "no rig stood at FIR then" },
    { "FIR", "2026-06-01T09:00", "", TRUE, -1, "at", "no rig stood" },
    { "OAK", "2026-06-01T09:00", "C3 action=none", FALSE, 0, "unit", "it was at ELM" },
    { "OAK", "2026-06-01T09:00", "K1 percent=5; K2 percent=50", FALSE, 1, "unit", "was not in this rig" },
    { "OAK", "2026-06-01T09:00", "K7 percent=50", FALSE, 0, "unit", "no unit “K7”" },
    { "OAK", "2026-03-15T09:00", "P1 percent=50", FALSE, 0, "unit", "was not in this rig then" }, /* not yet */
    { "OAK", "2026-06-01T09:00", "K1 percent=5; K1 percent=6", FALSE, 1, "unit", "twice" },
    { "OAK", "2026-06-01T09:00", "C1 action=swapped replacement=C3", FALSE, 0, "replacement", "is at ELM since 1 May 2026" },
    { "OAK", "2026-06-01T09:00", "C1 action=swapped replacement=P2", FALSE, 0, "replacement", "of another kind (power pack)" },
    { "OAK", "2026-06-01T09:00", "C1 action=swapped replacement=C7", FALSE, 0, "replacement", "no unit “C7”" },
    { "OAK", "2026-06-01T09:00", "C1 action=swapped replacement=C9", FALSE, 0, "replacement", "retired on 2026-05-05" },
    { "OAK", "2026-06-01T09:00", "C1 action=removed replacement=C2", FALSE, 0, "replacement", "only a unit that was swapped" },
    { "OAK", "2026-06-01T09:00", "C1 replacement=C1", FALSE, 0, "replacement", "only a unit that was swapped" },
    { "OAK", "2026-06-01T09:00", "C1 action=swapped replacement=C2", TRUE, 0, "replacement", "the rig comes in" },
    { "OAK", "2026-03-15T09:00", "C2 action=swapped replacement=C1", FALSE, -2, NULL, NULL }, /* free until May */
    { "OAK", "2026-03-15T09:00", "", TRUE, -1, "at", "as brought in on 1 April 2026" },
    { "OAK", "2026-05-10T09:00", "", TRUE, -1, "at", "a visit to this rig on 20 May 2026 09:00" },
    { "OAK", "2026-05-10T09:00", "C1 action=swapped replacement=C2", FALSE, 0, "action", "still seen here on 20 May 2026" },
    { "OAK", "2026-05-10T09:00", "C1 action=removed", FALSE, 0, "action", "still seen here" },
    { "OAK", "2026-05-10T09:00", "C1 action=swapped", FALSE, -2, NULL, NULL }, /* moves nothing */
    { "OAK", "2026-05-10T09:00", "K1 action=removed", FALSE, -2, NULL, NULL }, /* nobody saw it later */
    { "OAK", "2026-06-01T09:00", "K1 cause=ghosts", FALSE, 0, "cause", "ghosts" },
    /* C5 stands at ELM from 5 June on: told late, it cannot have been here then */
    { "OAK", "2026-06-01T09:00", "C1 action=swapped replacement=C5", FALSE, 0, "replacement", "is at ELM since 5 June 2026" },
  };

  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "OAK", "at", "2026-05-20T09:00");
  PUT (TPT_TABLE_READINGS, "visit", "V1", "unit", "C1", "action", "none");
  PUT (TPT_TABLE_FITTINGS, "deployment", "ELM-1", "unit", "C5", "from", "2026-06-05T09:00");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) visit = make_visit (f, cases[i].station, cases[i].at, "working");
      g_autoptr (GPtrArray) lines = make_lines (f, cases[i].lines);
      g_autoptr (TptVisitPlan) plan = make_plan (f, visit, lines, cases[i].bring_in);
      GPtrArray *faults = tpt_visit_plan_get_faults (plan);
      TptVisitFault *fault = faults->len > 0 ? faults->pdata[0] : NULL;

      g_test_message ("%s %s: %s: %s", cases[i].station, cases[i].at, cases[i].lines, fault != NULL ? fault->reason : "taken");
      g_assert_cmpuint (faults->len, ==, cases[i].line == -2 ? 0 : 1);
      if (fault == NULL)
        continue;
      g_assert_cmpint (fault->line, ==, cases[i].line);
      g_assert_cmpstr (fault->column, ==, cases[i].column);
      g_assert_nonnull (strstr (fault->reason, cases[i].reason));
      g_assert_cmpuint (tpt_visit_plan_get_records (plan)->len, ==, 0);
    }
}

/* Two cards cannot be the same one. */
static void
test_put_in_twice (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptRecord) visit = make_visit (f, "OAK", "2026-06-01T09:00", "working");
  g_autoptr (GPtrArray) lines = make_lines (f, "C1 action=swapped replacement=C2; C5 action=swapped replacement=C2");
  g_autoptr (TptVisitPlan) plan = NULL;
  TptVisitFault *fault;

  PUT (TPT_TABLE_FITTINGS, "deployment", "OAK-1", "unit", "C5", "from", "2026-05-02T09:00");
  plan = make_plan (f, visit, lines, FALSE);
  g_assert_cmpuint (tpt_visit_plan_get_faults (plan)->len, ==, 1);
  fault = tpt_visit_plan_get_faults (plan)->pdata[0];
  g_assert_cmpint (fault->line, ==, 1);
  g_assert_nonnull (strstr (fault->reason, "twice"));
}

static char *
dump_all (JobsFixture *f)
{
  static const TptTableId ids[] = { TPT_TABLE_UNITS, TPT_TABLE_DEPLOYMENTS, TPT_TABLE_FITTINGS, TPT_TABLE_VISITS,
                                    TPT_TABLE_READINGS, TPT_TABLE_UNIT_LOG, TPT_TABLE_STOCK };
  GString *text = g_string_new (NULL);

  for (gsize t = 0; t < G_N_ELEMENTS (ids); t++)
    {
      g_autoptr (GPtrArray) rows = jobs_list (f, ids[t], NULL, NULL);
      const TptTable *table = tpt_table_get (ids[t]);

      for (guint i = 0; i < rows->len; i++)
        for (guint c = 0; c < table->n_columns; c++)
          {
            g_autofree char *cell = tpt_record_to_string (rows->pdata[i], table->columns[c].name, NULL);
            g_string_append_printf (text, "%s|", cell != NULL ? cell : "");
          }
    }
  return g_string_free (text, FALSE);
}

static TptJobEdit *
make_job (JobsFixture *f, gboolean bring_in)
{
  g_autoptr (TptRecord) visit = make_visit (f, "OAK", "2026-06-01T09:00", "disturbed");
  g_autoptr (GPtrArray) lines =
    make_lines (f, bring_in ? "K1 percent=9" : "K1 percent=9 action=swapped cause=animal; P1 action=swapped; C1 action=swapped replacement=C2; "
                                               "F1 action=removed cause=fall");

  return tpt_job_visit_new ("Record visit at Oak bend", visit, lines, bring_in);
}

/* One action: undo takes every row of it back, redo brings it on again. */
static void
test_undo (JobsFixture *f, gconstpointer data)
{
  for (int bring_in = 0; bring_in < 2; bring_in++)
    {
      g_autoptr (TptJobEdit) job = make_job (f, bring_in);
      g_autofree char *before = dump_all (f), *after = NULL;

      jobs_run (f, job);
      after = dump_all (f);
      g_assert_cmpstr (before, !=, after);
      jobs_assert_sound (f, TRUE);
      for (int turn = 0; turn < 4; turn++)
        {
          g_autofree char *now = NULL;

          jobs_undo (f, turn % 2);
          now = dump_all (f);
          g_assert_cmpstr (now, ==, turn % 2 ? after : before);
        }
      jobs_undo (f, FALSE);
    }
}

/* Each writing step fails once: all of it is there afterwards, or none. */
static void
test_every_step (JobsFixture *f, gconstpointer data)
{
  g_autofree char *before = dump_all (f);
  int n;

  for (n = 1; n < 300; n++)
    {
      g_autoptr (TptJobEdit) job = make_job (f, FALSE);
      g_autoptr (GError) error = NULL;
      g_autofree char *now = NULL;
      gboolean done;

      tpt_fault_arm (n);
      done = tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
      tpt_fault_arm (0);
      if (done)
        break;
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      now = dump_all (f);
      g_assert_cmpstr (now, ==, before);
    }
  g_assert_cmpint (n, >, 12); /* a visit, four readings, two ends, one beginning, two entries, two counts */
  g_assert_cmpint (n, <, 300);
  jobs_assert_sound (f, TRUE);
}

/* The plan is made when the job runs: a count somebody changed meanwhile is
 * lowered from what it is then, and a card taken meanwhile is refused. */
static void
test_meanwhile (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobEdit) first = make_job (f, FALSE), second = make_job (f, FALSE);
  g_autoptr (TptRecord) count = NULL;
  g_autoptr (GPtrArray) counts = NULL;
  g_autoptr (GError) error = NULL;
  const char *column;

  jobs_import (f, "item,what,pieces\nS1,cells,20\n");
  jobs_run (f, first);
  counts = jobs_list (f, TPT_TABLE_STOCK, "item", "S1");
  g_assert_cmpint (tpt_record_get_integer (counts->pdata[0], "pieces", -1), ==, 14);
  jobs_undo (f, FALSE);

  PUT (TPT_TABLE_FITTINGS, "deployment", "ELM-1", "unit", "C2", "from", "2026-05-30T09:00");
  g_assert_false (tpt_project_run (f->project, TPT_JOB (second), NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_assert_cmpstr (tpt_record_get_text (tpt_job_edit_get_fault (second, &column), "unit"), ==, "C1");
  g_assert_cmpstr (column, ==, "replacement");
}

/* What a form offers: of the kind, free from then on, not retired. */
static void
test_spares (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *at, *kind, *codes;
  } cases[] = {
    { "2026-06-01T09:00", "card", "C2 C5 " },
    { "2026-06-01T09:00", "pack", "P2 " },
    { "2026-06-01T09:00", "camera", "K2 " },
    { "2026-06-01T09:00", "flash", "" },
    { "2026-03-15T09:00", "card", "C5 " }, /* C1 and C3 went out in May, C2 is in */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobVisitFacts) job = tpt_job_visit_facts_new ("OAK", tpt_instant_parse (cases[i].at, tpt_project_get_zone (f->project), NULL));
      g_autoptr (TptVisitFacts) facts = NULL;
      g_autoptr (GPtrArray) spares = NULL;
      g_autoptr (GString) codes = g_string_new (NULL);

      jobs_run (f, job);
      facts = tpt_job_visit_facts_steal (job);
      spares = tpt_visit_facts_list_spares (facts, cases[i].kind);
      for (guint s = 0; s < spares->len; s++)
        g_string_append_printf (codes, "%s ", tpt_record_get_code (spares->pdata[s]));
      g_assert_cmpstr (codes->str, ==, cases[i].codes);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_RIG(name, function) g_test_add (name, JobsFixture, NULL, visit_set_up, function, jobs_tear_down)
  ADD_RIG ("/visit-plan/changes", test_changes);
  ADD_RIG ("/visit-plan/shared-count", test_shared_count);
  ADD_RIG ("/visit-plan/block", test_block);
  ADD_RIG ("/visit-plan/faults", test_faults);
  ADD_RIG ("/visit-plan/put-in-twice", test_put_in_twice);
  ADD_RIG ("/visit-plan/undo", test_undo);
  ADD_RIG ("/visit-plan/every-step", test_every_step);
  ADD_RIG ("/visit-plan/meanwhile", test_meanwhile);
  ADD_RIG ("/visit-plan/spares", test_spares);
  return g_test_run ();
}
