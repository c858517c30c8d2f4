/* A project with cards on record: triggers written as text. */
#pragma once

#include <stdlib.h>

#include "jobs-fixture.h"
#include "tpt-job-batches.h"
#include "tpt-job-decide.h"
#include "tpt-job-frames.h"
#include "tpt-job-names.h"

/* Two stations on the Equator, where the sun sets near 18:00 all the year, two species. */
static inline void
frames_set_up (JobsFixture *f, gconstpointer zone)
{
  jobs_set_up (f, zone);
  PUT (TPT_TABLE_STATIONS, "station", "OTTER", "name", "Otter bank", "latitude", "0.5", "longitude", "115");
  PUT (TPT_TABLE_STATIONS, "station", "RIDGE", "latitude", "0.6", "longitude", "115.1");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "OTTER", "start", "2026-05-01", "frames_per_trigger", "3");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "RIDGE", "start", "2026-05-01", "frames_per_trigger", "3");
  jobs_import (f, "scientific_name,rank,sensitivity,common_en,common_es,common_ms\n"
                  "Tragulus kanchil,species,low,Lesser mouse-deer,Ciervo ratón menor,Pelanduk\n"
                  "Hemigalus derbyanus,species,,Banded civet,,Musang belang\n"
                  "Lutrogale perspicillata,species,high,Smooth-coated otter,Nutria lisa,\n");
}

/* One trigger of three frames a second apart per moment; the frames are called
 * by the first letter of the deployment's number, the trigger's number from 1,
 * and a, b, c: 11a. @prefix parts several cards. */
static inline void
frames_put (JobsFixture *f, const char *deployment, const char *prefix, const char *const *moments)
{
  GString *table = g_string_new ("frame,deployment,file,camera_time\n");

  for (guint i = 0; moments[i] != NULL; i++)
    for (guint k = 0; k < 3; k++)
      {
        TptReading reading;
        g_autofree char *time = NULL;

        g_assert_true (tpt_reading_parse (moments[i], &reading, NULL));
        reading.clock_ms += k * TPT_SECOND;
        time = tpt_reading_format (reading);
        g_string_append_printf (table, "%s%u%c,%s,pictures/%s%u%c.jpg,%s\n", prefix, i + 1, 'a' + k, deployment, prefix, i + 1,
                                'a' + k, time);
      }
  jobs_import (f, table->str);
  g_string_free (table, TRUE);
}

#define FRAMES(deployment, prefix, ...) frames_put (f, deployment, prefix, (const char *const[]){ __VA_ARGS__, NULL })

/* (transfer full): codes of what @query finds, with blanks between. */
static inline char *
frames_find (JobsFixture *f, const TptFrameQuery *query, TptJobFrames **kept)
{
  g_autoptr (TptJobFrames) job = tpt_job_frames_new (query);
  g_autoptr (TptJobFrameRows) rows = NULL;
  g_autoptr (GArray) refs = NULL;
  GString *text = g_string_new (NULL);

  jobs_run (f, job);
  refs = tpt_job_frames_steal_refs (job);
  rows = tpt_job_frame_rows_new ((const TptFrameRef *) (gpointer) refs->data, refs->len);
  jobs_run (f, rows);
  for (guint i = 0; i < tpt_job_frame_rows_get_rows (rows)->len; i++)
    {
      const TptFrameRow *row = tpt_job_frame_rows_get_rows (rows)->pdata[i];

      g_string_append_printf (text, "%s%s", i > 0 ? " " : "", row->frame);
    }
  if (kept != NULL)
    *kept = g_steal_pointer (&job);
  return g_string_free (text, FALSE);
}

/* The keys of a frame by its code. */
static inline TptFrameRef
frames_ref (JobsFixture *f, const char *code)
{
  const char *const codes[] = { code, NULL };
  g_autoptr (TptJobFrameRows) rows = tpt_job_frame_rows_new_for_codes (codes);

  jobs_run (f, rows);
  return ((const TptFrameRow *) tpt_job_frame_rows_get_rows (rows)->pdata[0])->ref;
}

/* (transfer full): what is on record of the trigger of frame @code, opinion by
 * opinion: "1 Mira: 2 Lesser mouse-deer, female | 2 Jau: Blank". */
static inline char *
frames_said (JobsFixture *f, const char *code)
{
  TptFrameRef ref = frames_ref (f, code);
  g_autoptr (TptJobFrameRows) rows = tpt_job_frame_rows_new (&ref, 1);
  GString *text = g_string_new (NULL);
  const TptFrameRow *row;

  jobs_run (f, rows);
  g_assert_cmpuint (tpt_job_frame_rows_get_rows (rows)->len, ==, 1);
  row = tpt_job_frame_rows_get_rows (rows)->pdata[0];
  for (guint i = 0; i < row->seen->len; i++)
    {
      const TptSeen *seen = row->seen->pdata[i];
      g_autofree char *what = tpt_seen_describe (seen);

      g_string_append_printf (text, "%s%d %s: %s", i > 0 ? " | " : "", seen->opinion, seen->by != NULL ? seen->by : "-", what);
    }
  return g_string_free (text, FALSE);
}

static inline TptJobDecide *
frames_decide (JobsFixture *f, const char *code, const TptDecision *decision)
{
  TptFrameRef ref = frames_ref (f, code);
  TptJobDecide *job = tpt_job_decide_new (&ref.trigger_id, 1, decision);

  jobs_run (f, job);
  return job;
}

#define SAY(code, ...) g_object_unref (frames_decide (f, code, &(TptDecision){ .certainty = NAN, __VA_ARGS__ }))

/* Memory of this process; 0 under a sanitizer, which keeps what was freed to
 * find those who use it still. */
static inline glong
frames_resident_kb (void)
{
#ifdef __SANITIZE_ADDRESS__
  return 0;
#else
  g_autofree char *status = NULL;
  const char *line;

  if (!g_file_get_contents ("/proc/self/status", &status, NULL, NULL))
    return 0;
  line = strstr (status, "VmRSS:");
  return line != NULL ? strtol (line + strlen ("VmRSS:"), NULL, 10) : 0;
#endif
}
