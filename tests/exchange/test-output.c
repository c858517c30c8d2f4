#include "config.h"

#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "folder.h"
#include "tpt-error.h"
#include "tpt-output.h"

/* Three blocks, so that there is more than one step of writing. */
static gboolean
write_new (const char *path, GError **error)
{
  g_autoptr (TptOutput) output = tpt_output_new (path, error);
  g_autofree char *block = g_strnfill (65536, 'n');

  if (output == NULL)
    return FALSE;
  for (int i = 0; i < 3; i++)
    if (!tpt_output_write (output, block, -1, error))
      return FALSE;
  return tpt_output_write (output, "end", -1, error) && tpt_output_commit (output, error);
}

/* With each step failing in turn, the file is wholly old and nothing else is left. */
static void
test_faults (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "out.csv", NULL);
  int steps;

  g_file_set_contents (path, "old", -1, NULL);
  for (steps = 1;; steps++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *left = NULL;

      tpt_fault_arm (steps);
      if (write_new (path, &error))
        break;
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      left = read_file (path);
      g_assert_cmpstr (left, ==, "old");
      g_assert_cmpuint (count_files (folder), ==, 1);
    }
  tpt_fault_arm (0);

  /* create, three full blocks and the rest, sync, rename */
  g_assert_cmpint (steps - 1, ==, 7);
  {
    g_autofree char *left = read_file (path);
    g_assert_cmpuint (strlen (left), ==, 3 * 65536 + 3);
    g_assert_cmpuint (count_files (folder), ==, 1);
  }
  remove_folder (folder);
}

static void
test_abandon (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "out.csv", NULL);
  TptOutput *output = tpt_output_new (path, NULL);

  g_assert_true (tpt_output_write (output, "x", 1, NULL));
  g_assert_cmpuint (count_files (folder), ==, 1);
  tpt_output_free (output);
  g_assert_cmpuint (count_files (folder), ==, 0);
  remove_folder (folder);
}

/* A failed step cannot be got round by going on. */
static void
test_failure_stays (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "out.csv", NULL);
  g_autofree char *block = g_strnfill (65536, 'n');
  g_autoptr (TptOutput) output = tpt_output_new (path, NULL);

  tpt_fault_arm (1);
  g_assert_false (tpt_output_write (output, block, -1, NULL));
  tpt_fault_arm (0);
  g_assert_false (tpt_output_write (output, "x", -1, NULL));
  g_assert_false (tpt_output_commit (output, NULL));
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  remove_folder (folder);
}

static void
test_permissions_and_links (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "out.csv", NULL);
  g_autofree char *link = g_build_filename (folder, "link.csv", NULL);
  g_autofree char *text = NULL;
  struct stat status;

  g_file_set_contents (path, "old", -1, NULL);
  g_assert_cmpint (chmod (path, 0600), ==, 0);
  g_assert_cmpint (symlink ("out.csv", link), ==, 0);
  g_assert_true (write_new (link, NULL));

  g_assert_true (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
  text = read_file (path);
  g_assert_true (g_str_has_suffix (text, "end"));
  g_assert_cmpint (stat (path, &status), ==, 0);
  g_assert_cmpint (status.st_mode & 0777, ==, 0600);
  remove_folder (folder);
}

static void
test_refused_targets (void)
{
  static const char *const names[] = { ".", "no-such-folder/out.csv" };
  g_autofree char *folder = make_folder ();

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (folder, names[i], NULL);
      g_autoptr (GError) error = NULL;

      g_assert_null (tpt_output_new (path, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
    }
  g_assert_cmpuint (count_files (folder), ==, 0);
  remove_folder (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/output/faults", test_faults);
  g_test_add_func ("/output/abandon", test_abandon);
  g_test_add_func ("/output/failure-stays", test_failure_stays);
  g_test_add_func ("/output/permissions-and-links", test_permissions_and_links);
  g_test_add_func ("/output/refused-targets", test_refused_targets);
  return g_test_run ();
}
