/* Kills a child that takes a card in, at moments spread over its whole run, and
 * runs it again: the card untouched, the destination whole, nothing twice. */
#include <glib.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "intake-fixture.h"
#include "tpt-intake-run.h"

#define N_FILES 40
#define N_KILLS 40

static TptIntake *
take_in (const char *card, const char *destination)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  TptIntakeRequest request = { .card = card, .destination = destination, .prefix = "D1", .frames_per_trigger = 3 };

  request.clock = (TptClock) { .zone = zone, .start = TPT_NO_INSTANT, .end = TPT_NO_INSTANT, .now = TPT_NO_INSTANT };
  return tpt_intake_run (&request, NULL, NULL);
}

/* A process of its own, so that no thread of this one is copied half. */
static pid_t
start_child (const char *program, const char *card, const char *destination)
{
  pid_t child = fork ();

  if (child == 0)
    {
      execl (program, program, "--take-in", card, destination, NULL);
      _exit (127);
    }
  g_assert_cmpint (child, >, 0);
  return child;
}

/* Returns whether it was still running, so that the kill was one. */
static gboolean
kill_after (pid_t child, gint64 after_us)
{
  int status;

  g_usleep (after_us);
  kill (child, SIGKILL);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  if (WIFEXITED (status))
    g_assert_cmpint (WEXITSTATUS (status), ==, 0);
  return WIFSIGNALED (status);
}

static gint64
time_whole_run (const char *program, const char *card, const char *destination)
{
  gint64 start = g_get_monotonic_time ();
  pid_t child = start_child (program, card, destination);
  int status;

  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
  return g_get_monotonic_time () - start;
}

static void
fill_card (const char *card)
{
  for (guint i = 0; i < N_FILES; i++)
    {
      g_autofree char *name = g_strdup_printf ("DCIM/%u/IMG_%u.JPG", 100 + i / 10, i);
      g_autofree char *date = g_strdup_printf ("2025-05-14T%02u:%02u:%02u", i / 3, i, i % 3);

      fixture_write_jpeg (card, name, i, date);
    }
}

static void
test_kill (gconstpointer program)
{
  g_autofree char *card = fixture_make_folder ();
  g_autofree char *folder = fixture_make_folder ();
  g_autofree char *destination = g_build_filename (folder, "pictures", NULL);
  g_autofree char *card_before = NULL;
  g_autofree char *wanted = NULL;
  gint64 whole_us;
  guint n_killed = 0;

  fill_card (card);
  card_before = fixture_list_tree (card, TRUE);
  whole_us = time_whole_run (program, card, destination);
  wanted = fixture_list_tree (destination, TRUE);

  for (guint i = 0; i < N_KILLS; i++)
    {
      g_autoptr (TptIntake) intake = NULL;
      g_autofree char *card_after = NULL;
      g_autofree char *found = NULL;

      fixture_remove_tree (destination);
      /* twice in a row, so that a resumed run is killed as well */
      n_killed += kill_after (start_child (program, card, destination),
                              whole_us * g_test_rand_int_range (0, 1000) / 1000);
      kill_after (start_child (program, card, destination), whole_us * g_test_rand_int_range (0, 1000) / 1000);

      intake = take_in (card, destination);
      g_assert_nonnull (intake);
      g_assert_cmpuint (intake->frames->len, ==, N_FILES);
      g_assert_cmpuint (intake->duplicates->len + intake->unreadable->len, ==, 0);
      found = fixture_list_tree (destination, TRUE);
      g_assert_cmpstr (found, ==, wanted);
      card_after = fixture_list_tree (card, TRUE);
      g_assert_cmpstr (card_after, ==, card_before);
    }

  g_test_message ("killed %u of %u", n_killed, (guint) N_KILLS);
  /* or the moments were badly chosen, and nothing was tested */
  g_assert_cmpuint (n_killed, >=, N_KILLS / 4);
  fixture_remove_tree (card);
  fixture_remove_tree (folder);
}

int
main (int argc, char **argv)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);

  if (argc == 4 && g_str_equal (argv[1], "--take-in"))
    {
      g_autoptr (TptIntake) intake = take_in (argv[2], argv[3]);

      return intake != NULL ? 0 : 1;
    }

  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  tpt_exif_init ();
  g_test_add_data_func ("/intake-run/kill", program, test_kill);
  return g_test_run ();
}
