/* The rules are those of tpt-trigger.h: our own, common practice, no source. */
#include <glib.h>

#include "tpt-trigger.h"

#define NONE G_MAXINT

typedef struct {
  const char *name;
  int frames_per_trigger;
  double gap_s;
  int n;
  int at_ms[10];          /* NONE: without a time */
  int sequence[10];
  const char *triggers;   /* one digit a frame */
} Case;

static const Case cases[] = {
  { "nothing", 3, 0, 0, { 0 }, { 0 }, "" },
  { "one", 3, 0, 1, { 0 }, { 0 }, "0" },
  { "burst", 0, 0, 3, { 0, 1000, 2000 }, { 0 }, "000" },
  { "gap at its limit", 0, 0, 2, { 0, 5000 }, { 0 }, "00" },
  { "gap past its limit", 0, 0, 2, { 0, 5001 }, { 0 }, "01" },
  { "gap from the frame before, not the first", 0, 0, 4, { 0, 4000, 8000, 12000 }, { 0 }, "0000" },
  { "another gap", 0, 2, 3, { 0, 2000, 4001 }, { 0 }, "001" },
  { "never more than the deployment's", 3, 0, 7, { 0, 1, 2, 3, 4, 5, 6 }, { 0 }, "0001112" },
  { "fewer when a gap comes", 3, 0, 5, { 0, 1000, 9000, 10000, 11000 }, { 0 }, "00111" },
  { "single frames", 1, 0, 3, { 0, 0, 0 }, { 0 }, "012" },
  { "same second", 2, 0, 4, { 0, 0, 0, 0 }, { 0 }, "0011" },
  { "the camera counts: a new burst close on the last", 0, 0, 6, { 0, 500, 1000, 1500, 2000, 2500 },
    { 1, 2, 3, 1, 2, 3 }, "000111" },
  { "the camera counts: a slow burst", 0, 0, 3, { 0, 20000, 40000 }, { 1, 2, 3 }, "000" },
  { "the camera counts: too slow for one", 0, 0, 2, { 0, 60001 }, { 1, 2 }, "01" },
  { "the camera counts: one missing", 0, 0, 2, { 0, 1000 }, { 1, 3 }, "01" },
  { "the camera counts some", 0, 0, 3, { 0, 1000, 9000 }, { 1, 0, 2 }, "001" },
  { "the deployment's number goes before the camera's", 2, 0, 3, { 0, 100, 200 }, { 1, 2, 3 }, "001" },
  { "without a time", 0, 0, 4, { 0, 1000, NONE, NONE }, { 0 }, "0012" },
};

static void
test_group (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Case *c = &cases[i];
      TptTriggerFrame frames[10] = { 0 };
      guint triggers[10] = { 0 };
      guint n_triggers;
      g_autoptr (GString) found = g_string_new (NULL);

      for (int j = 0; j < c->n; j++)
        {
          frames[j].at = c->at_ms[j] == NONE ? TPT_NO_INSTANT : c->at_ms[j];
          frames[j].sequence = c->sequence[j];
        }
      n_triggers = tpt_trigger_group (frames, c->n, c->frames_per_trigger, c->gap_s, triggers);
      for (int j = 0; j < c->n; j++)
        g_string_append_printf (found, "%u", triggers[j]);

      g_test_message ("%s", c->name);
      g_assert_cmpstr (found->str, ==, c->triggers);
      g_assert_cmpuint (n_triggers, ==, c->n > 0 ? triggers[c->n - 1] + 1 : 0);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/trigger/group", test_group);
  return g_test_run ();
}
