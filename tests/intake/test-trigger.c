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

/* Cards of bursts: so many of so many frames, with so long within a burst and between two. */
static const struct {
  const char *name;
  int bursts, frames;
  double within_s, between_s, every_other_s; /* the latter between every other pair of bursts */
  double low_s, high_s;                       /* the gap lies between these; the middle of the hole by ratio */
} cards[] = {
  { "nothing", 0, 0, 0, 0, 0, 5, 5 },
  { "two bursts: too few to learn from", 2, 3, 8, 600, 600, 5, 5 },
  { "bursts a second apart", 20, 3, 1, 600, 600, 1, 600 },
  { "a slow flash: 8 s between frames", 20, 3, 8, 600, 900, 8, 600 },
  { "a slow flash and a short rest: 8 s and 60 s", 20, 3, 8, 60, 90, 8, 60 },
  { "no bursts at all", 40, 1, 0, 300, 900, 5, 5 },
  { "no hole: 8 s within, 20 s between", 20, 3, 8, 20, 20, 5, 5 },
  { "all in the same second, then a minute", 20, 3, 0, 60, 60, 1, 60 },
};

static void
test_learn_gap (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cards); i++)
    {
      g_autoptr (GArray) frames = g_array_new (FALSE, FALSE, sizeof (TptTriggerFrame));
      g_autofree guint *triggers = NULL;
      TptTriggerFrame frame = { 0, 0 };
      double gap;

      for (int b = 0; b < cards[i].bursts; b++)
        {
          for (int f = 0; f < cards[i].frames; f++)
            {
              g_array_append_val (frames, frame);
              if (f + 1 < cards[i].frames)
                frame.at += (gint64) (cards[i].within_s * 1000);
            }
          frame.at += (gint64) ((b % 2 == 0 ? cards[i].between_s : cards[i].every_other_s) * 1000);
        }
      gap = tpt_trigger_learn_gap ((const TptTriggerFrame *) (gpointer) frames->data, frames->len);
      g_test_message ("%s: %g s", cards[i].name, gap);
      g_assert_cmpfloat (gap, >=, cards[i].low_s);
      g_assert_cmpfloat (gap, <=, cards[i].high_s);
      if (cards[i].low_s == cards[i].high_s)
        continue;
      triggers = g_new0 (guint, frames->len);
      g_assert_cmpuint (tpt_trigger_group ((const TptTriggerFrame *) (gpointer) frames->data, frames->len, 0, gap, triggers), ==,
                        (guint) cards[i].bursts);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/trigger/group", test_group);
  g_test_add_func ("/trigger/learn-gap", test_learn_gap);
  return g_test_run ();
}
