process.stdout.write("hi\n");
