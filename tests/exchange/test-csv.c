#include "config.h"

#include <math.h>
#include <string.h>
#include <sys/resource.h>

#include "drip.h"
#include "folder.h"
#include "input.h"
#include "tpt-csv.h"
#include "tpt-error.h"

/* Rows as "line:a|b", one a line. */
static char *
read_rows (TptCsvReader *reader, GError **error)
{
  g_autoptr (GString) rows = g_string_new (NULL);
  const TptCsvRow *row;

  while (tpt_csv_reader_next (reader, &row, error))
    {
      g_autofree char *fields = g_strjoinv ("|", (char **) row->fields);
      g_assert_cmpuint (row->n_fields, ==, g_strv_length ((char **) row->fields));
      g_string_append_printf (rows, "%" G_GINT64_FORMAT ":%s\n", row->line, fields);
    }
  return g_string_free (g_steal_pointer (&rows), FALSE);
}

static void
assert_refusal (GPtrArray *refusals, guint index, gint64 line, const char *column, const char *reason)
{
  const TptRefusal *refusal;

  g_assert_cmpuint (refusals->len, >, index);
  refusal = g_ptr_array_index (refusals, index);
  g_assert_cmpstr (refusal->file, ==, "t.csv");
  g_assert_cmpint (refusal->line, ==, line);
  g_assert_cmpstr (refusal->column, ==, column);
  if (strstr (refusal->reason, reason) == NULL)
    g_error ("“%s” is not in “%s”", reason, refusal->reason);
}

/* RFC 4180, section 2, rules 1 to 7, and what files in the field look like.
 * The size is given where the input holds a NUL. */
static const struct {
  const char *input;
  gsize size;
  const char *rows;
  gint64 line; /* of the one refusal; 0: none */
  const char *column;
  const char *reason;
} row_cases[] = {
  { "a,b\r\n1,2\r\n", 0, "2:1|2\n" },                                   /* rule 1 */
  { "a,b\r\n1,2", 0, "2:1|2\n" },                                       /* rule 2: last line end may be missing */
  { "a,b\n1,2\n3,4\n", 0, "2:1|2\n3:3|4\n" },
  { "a,b\r1,2\r3,4\r", 0, "2:1|2\n3:3|4\n" },
  { "a,b\n1, 2 \n", 0, "2:1| 2 \n" },                                   /* rule 4: blanks are part of a field */
  { "a,b\n\"1\",\"2\"\n", 0, "2:1|2\n" },                               /* rule 5 */
  { "a,b\n\"1\n\nx\",2\n3,4\n", 0, "2:1\n\nx|2\n5:3|4\n" },             /* rule 6: line ends and commas in quotes */
  { "a,b\r\n\"1\r\nx\",2\r\n3,4\r\n", 0, "2:1\r\nx|2\n4:3|4\n" },
  { "a,b\n\"1\rx\",2\r3,4\r", 0, "2:1\rx|2\n4:3|4\n" },
  { "a,b\n\"1,x\",2\n", 0, "2:1,x|2\n" },
  { "a,b\n\"say \"\"hi\"\"\",\"\"\"\"\n", 0, "2:say \"hi\"|\"\n" },     /* rule 7 */
  { "a,b\n,\n", 0, "2:|\n" },
  { "a,b\n\"\",\"\"\n", 0, "2:|\n" },
  { "\xEF\xBB\xBF" "a,b\n1,2\n", 0, "2:1|2\n" },                        /* byte-order mark */
  { "a,b\n\n1,2\n\n\n", 0, "3:1|2\n" },                                 /* empty lines */
  { "\n\na,b\n1,2\n", 0, "4:1|2\n" },
  { "a\n\"\"\nx\n", 0, "2:\n3:x\n" },                                   /* an empty field is not an empty line */
  { " a , b \n1,2\n", 0, "2:1|2\n" },
  { "a,b\nž,鹿\n", 0, "2:ž|鹿\n" },
  { "a,b\n", 0, "" },
  { "a,b", 0, "" },
  { "a,b,c\n1,2\n3,4,5\n", 0, "3:3|4|5\n", 2, NULL, "2 fields for 3 columns: nothing for “c”" },
  { "a,b,c\n1\n3,4,5\n", 0, "3:3|4|5\n", 2, NULL, "nothing for “b”, “c”" },
  { "a,b\n1,2,3\n4,5\n", 0, "3:4|5\n", 2, NULL, "3 fields for 2 columns" },
  { "a,b\n1,2\n3,4", 0, "2:1|2\n3:3|4\n" },
  { "a,b\n\"x\ny\",1,2\n4,5\n", 0, "4:4|5\n", 2, NULL, "3 fields for 2 columns" },
  { "a,b\n1,x\"y\n4,5\n", 0, "3:4|5\n", 2, NULL, "quote in a text" },
  { "a,b\n1,\"x\"y\n4,5\n", 0, "3:4|5\n", 2, NULL, "after a closing quote" },
  { "a,b\n1,\"x\" \n4,5\n", 0, "3:4|5\n", 2, NULL, "after a closing quote" },
  { "a,b\n1,\xE9\n4,5\n", 0, "3:4|5\n", 2, "b", "not UTF-8" },          /* Latin-1 */
  { "a,b\n1,\xC3\n4,5\n", 0, "3:4|5\n", 2, "b", "not UTF-8" },
  { "a,b\n1\0,2\n4,5\n", 12, "3:4|5\n", 2, "a", "NUL" },
  { "a,b\n\"1\0\",2\n4,5\n", 14, "3:4|5\n", 2, "a", "NUL" },
  { "a,b\n1,2\n\"3,4\n5,6\n", 0, "2:1|2\n", 3, NULL, "never closed" },  /* where it began, not where the file ends */
  { "a,b\n1,\"2\n3\n4\n", 0, "", 2, NULL, "never closed" },
  { "a,b\n\"x\ny\",\"2\n3\n", 0, "", 3, NULL, "never closed" },         /* the second quote of the record */
};

static void
test_rows (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (row_cases); i++)
    for (gsize most = 1; most < 6; most++)
      {
        const char *input = row_cases[i].input;
        gsize size = row_cases[i].size > 0 ? row_cases[i].size : strlen (input);
        g_autoptr (GInputStream) stream = open_drip (input, size, most);
        g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
        g_autoptr (GError) error = NULL;
        g_autoptr (TptCsvReader) reader = tpt_csv_reader_new (stream, "t.csv", refusals, &error);
        g_autofree char *rows = NULL;

        g_assert_no_error (error);
        rows = read_rows (reader, &error);
        g_assert_cmpstr (rows, ==, row_cases[i].rows);
        g_assert_cmpuint (refusals->len, ==, row_cases[i].line > 0 ? 1 : 0);
        if (row_cases[i].line > 0)
          assert_refusal (refusals, 0, row_cases[i].line, row_cases[i].column, row_cases[i].reason);
        if (error != NULL)
          g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      }
}

/* Without a list of refusals the first fault ends the reading. */
static void
test_strict (void)
{
  static const char input[] = "a,b\n1,2\n3\n4,5\n";
  g_autoptr (GInputStream) stream = open_bytes (input, strlen (input));
  g_autoptr (TptCsvReader) reader = tpt_csv_reader_new (stream, "t.csv", NULL, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) again = NULL;
  g_autofree char *rows = read_rows (reader, &error);
  const TptCsvRow *row;

  g_assert_cmpstr (rows, ==, "2:1|2\n");
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_assert_nonnull (strstr (error->message, "line 3"));
  g_assert_false (tpt_csv_reader_next (reader, &row, &again));
  g_assert_cmpstr (again->message, ==, error->message);
}

static void
test_headers (void)
{
  static const struct {
    const char *input;
    gsize size;
    gint64 line;
    const char *column;
    const char *reason;
  } cases[] = {
    { "", 0, 1, NULL, "empty" },
    { "\n\r\n", 0, 0, NULL, "empty" },
    { "\xEF\xBB\xBF", 0, 1, NULL, "empty" },
    { "a,b,a\n", 0, 1, "a", "more than one column “a”" },
    { "a, a\n", 0, 1, "a", "more than one column “a”" },
    { "a,,b\n", 0, 1, "", "Column 2 has no name" },
    { "a;b;c\n1;2;3\n", 0, 1, NULL, "semicolons" },
    { "a\tb\n1\t2\n", 0, 1, NULL, "tabs" },
    { "a,\xE9\n", 0, 1, NULL, "not UTF-8" },
    { "\xFF\xFE" "a\0,\0b\0\n\0", 10, 1, NULL, "UTF-16" },
    { "\xFE\xFF\0a\0,\0b\0\n", 10, 1, NULL, "UTF-16" },
    { "a\0,\0b\0\n\0", 8, 1, NULL, "UTF-16" }, /* without the mark */
    { "\"a,b\n1,2\n", 0, 1, NULL, "never closed" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      gsize size = cases[i].size > 0 ? cases[i].size : strlen (cases[i].input);
      g_autoptr (GInputStream) stream = open_bytes (cases[i].input, size);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;

      g_assert_null (tpt_csv_reader_new (stream, "t.csv", refusals, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      g_assert_cmpuint (refusals->len, ==, 1);
      if (cases[i].line > 0)
        assert_refusal (refusals, 0, cases[i].line, cases[i].column, cases[i].reason);
      g_assert_nonnull (strstr (error->message, cases[i].reason));
    }
}

static void
test_columns (void)
{
  static const char input[] = "station,latitude\nS1,47.2\n";
  g_autoptr (GInputStream) stream = open_bytes (input, strlen (input));
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (TptCsvReader) reader = tpt_csv_reader_new (stream, "t.csv", refusals, NULL);
  const TptCsvRow *row;

  g_assert_cmpstr (tpt_csv_reader_get_columns (reader)[1], ==, "latitude");
  g_assert_null (tpt_csv_reader_get_columns (reader)[2]);
  g_assert_cmpint (tpt_csv_reader_find (reader, "latitude"), ==, 1);
  g_assert_cmpint (tpt_csv_reader_find (reader, "lattitude"), ==, -1); /* a wrong column */
  g_assert_null (tpt_csv_reader_get (reader, "station"));
  g_assert_true (tpt_csv_reader_next (reader, &row, NULL));
  g_assert_cmpstr (tpt_csv_reader_get (reader, "latitude"), ==, "47.2");
  g_assert_null (tpt_csv_reader_get (reader, "lattitude"));
  tpt_csv_reader_refuse (reader, "latitude", "of the caller's own");
  assert_refusal (refusals, 0, 2, "latitude", "of the caller's own");
}

static glong
get_peak_kib (void)
{
  struct rusage usage;

  getrusage (RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

/* Ten megabytes without a line end, from disk, so that only the reader's own
 * memory can grow: it may keep one row of one MiB, in a buffer that doubles.
 * 8 MiB allows for the copies of growing; keeping the line takes 10 or more. */
static void
test_long_line (gconstpointer data)
{
  const char *start = data;
  gboolean quoted = strchr (start, '"') != NULL;
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.csv", NULL);
  g_autofree char *block = g_strnfill (1000000, 'x');
  FILE *file = g_fopen (path, "w");
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *rows = NULL;
  TptCsvReader *reader;
  glong before;

  fputs (start, file);
  for (int i = 0; i < 10; i++)
    fputs (block, file);
  fputs ("\n3,4\n", file);
  fclose (file);

  before = get_peak_kib ();
  reader = tpt_csv_reader_open (path, refusals, &error);
  rows = read_rows (reader, &error);
  g_assert_cmpint (get_peak_kib () - before, <, 8 * 1024);
  g_assert_cmpuint (refusals->len, ==, 1);
  assert_refusal (refusals, 0, 2, NULL, quoted ? "not closed within" : "longer than");
  g_assert_cmpstr (rows, ==, quoted ? "" : "3:3|4\n");
  g_assert_cmpint (error != NULL, ==, quoted);
  tpt_csv_reader_free (reader);
  remove_folder (folder);
}

static void
test_row_limit (void)
{
  /* With its line end the row has exactly as many bytes as allowed, or one more. */
  for (int more = 0; more < 2; more++)
    {
      g_autofree char *field = g_strnfill (TPT_CSV_ROW_MAX - 3 + more, 'x');
      g_autofree char *input = g_strconcat ("a,b\n1,", field, "\n3,4\n", NULL);
      g_autoptr (GInputStream) stream = open_bytes (input, strlen (input));
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (TptCsvReader) reader = tpt_csv_reader_new (stream, "t.csv", refusals, NULL);
      const TptCsvRow *row;

      g_assert_true (tpt_csv_reader_next (reader, &row, NULL));
      g_assert_cmpint (row->line, ==, 2 + more);
      g_assert_cmpuint (refusals->len, ==, more);
    }
}

static void
test_too_many_faults (void)
{
  g_autoptr (GString) input = g_string_new ("a,b\n");
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GInputStream) stream = NULL;
  g_autoptr (TptCsvReader) reader = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *rows = NULL;

  for (int i = 0; i < 3 * TPT_REFUSALS_MAX; i++)
    g_string_append (input, "x\n");
  stream = open_bytes (input->str, input->len);
  reader = tpt_csv_reader_new (stream, "t.csv", refusals, NULL);
  rows = read_rows (reader, &error);
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_assert_cmpuint (refusals->len, ==, TPT_REFUSALS_MAX + 1);
}

static void
test_missing_file (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "none.csv", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_null (tpt_csv_reader_open (path, NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
  g_clear_error (&error);
  g_assert_null (tpt_csv_reader_open (folder, NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
  remove_folder (folder);
}

/* However a file is spoilt: an end, and sound rows until then. */
static void
test_mutations (void)
{
  static const char good[] =
    "\xEF\xBB\xBFstation,name,latitude\r\nS1,\"Ford, lower\",47.2\r\nS2,\"the \"\"old\"\" lick\",47.3\r\n"
    "S3,\"two\r\nlines\",47.4\r\nS4,žluva,\r\nS5,,-1e-3\r\n";
  guint spoilt = 0;

  for (guint32 seed = 0; seed < MUTATIONS; seed++)
    {
      g_autoptr (GByteArray) bytes = mutate (good, strlen (good), seed);
      g_autoptr (GInputStream) stream = open_bytes ((const char *) bytes->data, bytes->len);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;
      TptCsvReader *reader = tpt_csv_reader_new (stream, "t.csv", refusals, &error);

      if (reader != NULL)
        {
          g_autofree char *rows = read_rows (reader, &error);
          g_assert_true (g_utf8_validate (rows, -1, NULL));
          tpt_csv_reader_free (reader);
        }
      if (error != NULL)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      spoilt += refusals->len > 0;
      for (guint i = 0; i < refusals->len; i++)
        g_assert_cmpint (((TptRefusal *) g_ptr_array_index (refusals, i))->line, >=, 1);
    }
  /* The mutations do spoil. */
  g_assert_cmpuint (spoilt, >, MUTATIONS / 4);
}

static const char *const columns[] = { "code", "text", "real", "count", NULL };

static const struct {
  const char *code;
  const char *text;
  double real;
  gint64 count;
} written[] = {
  { "S1", "plain", 47.2, 0 },
  { "S2", "a, comma", 1.0 / 3, -1 },
  { "S3", "a \"quote\"", -0.1, G_MAXINT64 },
  { "S4", "line\nfeed", 1e300, G_MININT64 },
  { "S5", "carriage\rreturn\r\n", NAN, 5 },
  { "S6", NULL, 0, 5 },
  { "S7", " blanks ", 5e-324, 5 },
  { "S8", "=1+1", 100, 5 }, /* not touched: values must read back */
  { "S9", "žluva 鹿", 100, 5 },
};

static const char golden[] =
  "code,text,real,count\n"
  "S1,plain,47.2,0\n"
  "S2,\"a, comma\",0.3333333333333333,-1\n"
  "S3,\"a \"\"quote\"\"\",-0.1,9223372036854775807\n"
  "S4,\"line\nfeed\",1e+300,-9223372036854775808\n"
  "S5,\"carriage\rreturn\r\n\",,5\n"
  "S6,,0,5\n"
  "S7, blanks ,4.94065645841247e-324,5\n"
  "S8,=1+1,100,5\n"
  "S9,žluva 鹿,100,5\n";

static gboolean
write_table (const char *path, GError **error)
{
  g_autoptr (TptCsvWriter) writer = tpt_csv_writer_new (path, columns, error);

  if (writer == NULL)
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (written); i++)
    {
      tpt_csv_writer_add_text (writer, written[i].code);
      tpt_csv_writer_add_text (writer, written[i].text);
      tpt_csv_writer_add_real (writer, written[i].real);
      tpt_csv_writer_add_integer (writer, written[i].count);
      if (!tpt_csv_writer_end_row (writer, error))
        return FALSE;
    }
  return tpt_csv_writer_commit (writer, error);
}

static void
test_writer (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.csv", NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  TptCsvReader *reader;
  const TptCsvRow *row;

  g_assert_true (write_table (path, &error));
  text = read_file (path);
  g_assert_cmpstr (text, ==, golden);

  reader = tpt_csv_reader_open (path, NULL, &error);
  for (gsize i = 0; i < G_N_ELEMENTS (written); i++)
    {
      g_assert_true (tpt_csv_reader_next (reader, &row, &error));
      g_assert_cmpstr (row->fields[0], ==, written[i].code);
      g_assert_cmpstr (row->fields[1], ==, written[i].text != NULL ? written[i].text : "");
    }
  g_assert_false (tpt_csv_reader_next (reader, &row, &error));
  g_assert_no_error (error);
  tpt_csv_reader_free (reader);
  remove_folder (folder);
}

static void
test_writer_one_column (void)
{
  static const char *const one[] = { "name", NULL };
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.csv", NULL);
  g_autofree char *rows = NULL;
  TptCsvWriter *writer = tpt_csv_writer_new (path, one, NULL);
  TptCsvReader *reader;

  tpt_csv_writer_add_text (writer, "");
  g_assert_true (tpt_csv_writer_end_row (writer, NULL));
  g_assert_true (tpt_csv_writer_commit (writer, NULL));
  tpt_csv_writer_free (writer);
  reader = tpt_csv_reader_open (path, NULL, NULL);
  rows = read_rows (reader, NULL);
  g_assert_cmpstr (rows, ==, "2:\n");
  tpt_csv_reader_free (reader);
  remove_folder (folder);
}

static void
test_writer_faults (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.csv", NULL);

  g_file_set_contents (path, "old", -1, NULL);
  for (int step = 1;; step++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *text = NULL;
      gboolean good;

      tpt_fault_arm (step);
      good = write_table (path, &error);
      text = read_file (path);
      g_assert_cmpstr (text, ==, good ? golden : "old");
      g_assert_cmpuint (count_files (folder), ==, 1);
      if (good)
        {
          g_assert_cmpint (step, ==, 5); /* create, write, sync and rename had failed */
          break;
        }
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
    }
  tpt_fault_arm (0);
  remove_folder (folder);
}

static void
test_writer_bad_text (void)
{
  static const char *const one[] = { "name", NULL };
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.csv", NULL);
  g_autoptr (GError) error = NULL;
  TptCsvWriter *writer = tpt_csv_writer_new (path, one, NULL);

  tpt_csv_writer_add_text (writer, "\xE9");
  g_assert_false (tpt_csv_writer_end_row (writer, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  tpt_csv_writer_free (writer);
  g_assert_cmpuint (count_files (folder), ==, 0);
  remove_folder (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/csv/rows", test_rows);
  g_test_add_func ("/csv/strict", test_strict);
  g_test_add_func ("/csv/headers", test_headers);
  g_test_add_func ("/csv/columns", test_columns);
  g_test_add_data_func ("/csv/long-line", "a,b\n", test_long_line);
  g_test_add_data_func ("/csv/long-line-in-quotes", "a,b\n\"", test_long_line);
  g_test_add_func ("/csv/row-limit", test_row_limit);
  g_test_add_func ("/csv/too-many-faults", test_too_many_faults);
  g_test_add_func ("/csv/missing-file", test_missing_file);
  g_test_add_func ("/csv/mutations", test_mutations);
  g_test_add_func ("/csv/writer", test_writer);
  g_test_add_func ("/csv/writer-one-column", test_writer_one_column);
  g_test_add_func ("/csv/writer-faults", test_writer_faults);
  g_test_add_func ("/csv/writer-bad-text", test_writer_bad_text);
  return g_test_run ();
}
